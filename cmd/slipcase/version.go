package main

import (
	"embed"
	"runtime"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/page"
)

// licenses are the notices of all that is linked into the program, a file a module.
// TestLicenses holds them against the modules' own.
//
//go:embed licenses/*.txt
var licenses embed.FS

func (a *app) versionCommand() *cobra.Command {
	c := &cobra.Command{
		Use: "version", Short: "what this program is, and what it is made of", Args: cobra.NoArgs,
		Long: `Says which version this is, the commit that it was built from and what built it.
--licenses prints the notices of everything that is linked into it.`,
		Example: "  slipcase version\n  slipcase version --licenses",
		RunE: do(func(c *cobra.Command, _ []string) error {
			if all, _ := c.Flags().GetBool("licenses"); all {
				list, err := notices()
				if err != nil {
					return err
				}
				return a.page.Notices(list)
			}
			info, _ := debug.ReadBuildInfo()
			return a.page.Version(versionOf(info))
		}),
	}
	c.Flags().Bool("licenses", false, "the notices of all that is linked into the program")
	return c
}

// versionOf is what a build knows of itself; info is nil where it knows nothing.
func versionOf(info *debug.BuildInfo) page.Version {
	v := page.Version{Version: "unreleased", Go: runtime.Version(), Platform: runtime.GOOS + "/" + runtime.GOARCH}
	if info == nil {
		return v
	}
	if was := info.Main.Version; was != "" && was != "(devel)" {
		v.Version = was
	}
	for _, s := range info.Settings {
		switch s.Key {
		case "vcs.revision":
			v.Commit = s.Value
		case "vcs.time":
			v.Of = s.Value
		case "vcs.modified":
			v.Changed = s.Value == "true"
		}
	}
	return v
}

// notices are those of all modules that are linked.
func notices() (all []page.Notice, err error) {
	files, err := licenses.ReadDir("licenses")
	if err != nil {
		return nil, err
	}
	for _, f := range files {
		text, err := licenses.ReadFile("licenses/" + f.Name())
		if err != nil {
			return nil, err
		}
		all = append(all, page.Notice{Module: moduleOf(f.Name()), Text: string(text)})
	}
	return all, nil
}

// moduleOf is the module whose notices a file has.
func moduleOf(file string) string {
	return strings.ReplaceAll(strings.TrimSuffix(file, ".txt"), "+", "/")
}
