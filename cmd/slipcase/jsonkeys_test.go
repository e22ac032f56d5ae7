package main

import (
	"bytes"
	"encoding/json"
	"io"
	"maps"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/spf13/cobra"

	"slipcase/logbook"
)

// wordsAlone are the commands that answer a person alone.
var wordsAlone = []string{"slipcase", "slipcase demo", "slipcase serve devices revoke"}

// snakeCase is the one form of a key, with the end of an interval as low80.
var snakeCase = regexp.MustCompile(`^[a-z][a-z0-9]*(_[a-z0-9]+)*$`)

// holdJSONKeys holds the keys of every command's JSON to testdata/json-keys.txt: other
// programs rely on them, so they change on purpose alone. whole says that all scripts
// have run.
func holdJSONKeys(t *testing.T, all []shadow, whole bool) {
	const path = "testdata/json-keys.txt"
	a := &app{in: strings.NewReader(""), out: io.Discard, errOut: io.Discard, now: time.Now, newID: logbook.NewID}
	root := a.command()
	found, answered := map[string]bool{}, map[string]bool{}
	for _, s := range all {
		c, _, err := root.Find(s.Args)
		if s.Form != "json" || err != nil || answersInWords(c) || s.asksHelp() || s.Out == "" {
			continue
		}
		var answer any
		if err := json.Unmarshal([]byte(s.Out), &answer); err != nil {
			t.Errorf("%s: %v is no JSON: %v\n%s", s.Script, s.Args, err, s.Out)
		}
		answered[c.CommandPath()] = true
		keysOf(answer, strings.TrimPrefix(c.CommandPath(), "slipcase ")+"  ", found)
	}
	for key := range found {
		last := key[strings.LastIndexAny(key, " .")+1:]
		if last = strings.TrimRight(last, "[]"); !snakeCase.MatchString(last) && last != "" || looseEnd.MatchString(last) {
			t.Errorf("JSON key %s: want snake_case, and the ends of an interval as low80 and high80", key)
		}
	}
	var listed bytes.Buffer
	for _, key := range slices.Sorted(maps.Keys(found)) {
		listed.WriteString(key + "\n")
	}
	if *update && whole {
		if err := os.WriteFile(path, listed.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	held := map[string]bool{}
	for line := range strings.Lines(string(text)) {
		held[strings.TrimSuffix(line, "\n")] = true
		if key := strings.TrimSuffix(line, "\n"); whole && !found[key] {
			t.Errorf("%s has a JSON key that no answer had: %s", path, key)
		}
	}
	for key := range found {
		if !held[key] {
			t.Errorf("%s lacks a JSON key: %s (go test -run TestScripts -update writes it, when it is meant)", path, key)
		}
	}
	if whole {
		everyCommand(root, func(c *cobra.Command) {
			if !answersInWords(c) && !answered[c.CommandPath()] {
				t.Errorf("no script has an answer of %s that could be JSON", c.CommandPath())
			}
		})
	}
}

// looseEnd is the end of an interval as it is not written.
var looseEnd = regexp.MustCompile(`(low|high)_[0-9]`)

// answersInWords reports a command without JSON: one that only names others, or one of
// wordsAlone.
func answersInWords(c *cobra.Command) bool {
	return c.HasSubCommands() || slices.Contains(wordsAlone, c.CommandPath())
}

func everyCommand(c *cobra.Command, do func(*cobra.Command)) {
	do(c)
	for _, sub := range c.Commands() {
		everyCommand(sub, do)
	}
}

// keysOf puts the keys of a value into found, each behind the way to it.
func keysOf(value any, way string, found map[string]bool) {
	switch v := value.(type) {
	case map[string]any:
		if !strings.HasSuffix(way, " ") {
			way += "."
		}
		for key, inner := range v {
			found[way+key] = true
			keysOf(inner, way+key, found)
		}
	case []any:
		for _, inner := range v {
			keysOf(inner, way+"[]", found)
		}
	}
}
