package board

import (
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/typed"
)

// What the tree of commands says of a line.

// named reports that a command has one under it of that name.
func named(c *cobra.Command, word string) bool {
	return slices.ContainsFunc(c.Commands(), func(sub *cobra.Command) bool { return strings.EqualFold(sub.Name(), word) })
}

// slipCommand is the command whose own commands need not name it here: list is slip list.
func slipCommand(root *cobra.Command) *cobra.Command {
	c, _, _ := root.Find([]string{"slip"})
	return c
}

// commandArgs is a command line in full: list is slip list, and air 88F 42 is air add.
func commandArgs(root *cobra.Command, line string) ([]string, error) {
	args, err := typed.SplitWords(line)
	if err != nil {
		return nil, err
	}
	if args[0] = strings.ToLower(args[0]); args[0] == "slipcase" {
		args = args[1:]
	}
	if len(args) == 0 {
		return nil, nil
	}
	if !named(root, args[0]) {
		return append([]string{"slip"}, args...), nil
	}
	group, _, _ := root.Find(args[:1])
	if len(args) > 1 && slices.Contains([]string{"slip", "air"}, args[0]) && !named(group, args[1]) &&
		!strings.HasPrefix(args[1], "--") {
		args = slices.Insert(args, 1, "add")
	}
	return args, nil
}

// nearest are the commands that may have been meant by a word.
func nearest(root *cobra.Command, word string) (near []string) {
	for letters := 1; letters <= 2 && len(near) == 0; letters++ { // exchanged, left out or too many
		for _, c := range []*cobra.Command{root, slipCommand(root)} {
			c.SuggestionsMinimumDistance = letters
			near = append(near, c.SuggestionsFor(word)...)
		}
	}
	alike := func(name string) bool { return strings.EqualFold(name[:1], word[:1]) }
	if slices.ContainsFunc(near, alike) {
		near = slices.DeleteFunc(near, func(name string) bool { return !alike(name) })
	}
	return near
}

// Complete tells what the last word begun on a line may become.
func (b *Board) Complete(line string) []string {
	words := append(strings.Fields(line), "")
	if !strings.HasSuffix(line, " ") && len(words) > 1 {
		words = words[:len(words)-1]
	}
	root := b.Tree()
	first, begun := len(words) == 1, words[len(words)-1]
	if !first {
		switch kind := b.kindOf(root, words[0]); kind {
		case typed.Command:
			words, _ = commandArgs(root, strings.Join(words[:len(words)-1], " "))
			words = append(words, begun)
		default:
			words = append([]string{"slip", "add"}, words...)
		}
	}
	found := b.completed(root, words)
	if first {
		found = append(found, b.completed(b.Tree(), []string{"slip", begun})...)
		found = append(found, b.completed(b.Tree(), []string{"slip", "add", begun})...)
	}
	slices.Sort(found)
	return slices.Compact(found)
}

// completed asks the commands what a line may become.
func (b *Board) completed(root *cobra.Command, words []string) (found []string) {
	var out strings.Builder
	root.SetOut(&out)
	root.SetErr(io.Discard)
	root.SetArgs(slices.Concat([]string{cobra.ShellCompNoDescRequestCmd}, b.Flags, words))
	if root.Execute() != nil {
		return nil
	}
	for word := range strings.Lines(out.String()) {
		if word = strings.TrimSpace(word); word != "" && word[0] != ':' {
			found = append(found, word)
		}
	}
	return found
}
