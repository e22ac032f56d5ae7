package main

import (
	"errors"
	"io"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/notebook"
)

// place writes a file whole, and over one that is there only with --force.
func place(c *cobra.Command, path string, fill func(io.Writer) error) error {
	files := placing(c)
	defer files.Drop()
	err := files.Write(path, fill)
	if err == nil {
		err = files.Done()
	}
	return there(err)
}

// checkPlace refuses a place that is taken, before any work is done for it.
func checkPlace(c *cobra.Command, path string) error { return there(placing(c).Free(path)) }

func placing(c *cobra.Command) *notebook.Placing {
	force, _ := c.Flags().GetBool("force")
	return &notebook.Placing{Over: force}
}

func there(err error) error {
	if errors.Is(err, notebook.ErrThere) {
		return &advised{err, "write over it   add --force"}
	}
	return err
}
