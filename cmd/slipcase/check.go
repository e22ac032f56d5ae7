package main

import (
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/logbook"
)

// checked is what a check found and did.
type checked struct {
	Logbook  string            `json:"logbook"`
	Repaired []logbook.Mend    `json:"repaired"`
	Findings []logbook.Finding `json:"findings"`
	Grave    int               `json:"grave"` // how many of them are lost or ambiguous
}

func (a *app) checkCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "check",
		Short: "read the whole logbook and tell what is wrong; --repair mends what can be",
		Long: `Reads every row of every file and holds it against the journal. It tells, by file and
line, what is torn, lost, unreadable or contradictory, which slips name what is not
there, lack setup or air, cannot be or are there twice. Rows changed by hand are
told too; that is no error. A row or a value deleted by hand counts as lost: to take a
slip out, void it; to take a value out, amend it to a full stop. The status is 1 if
anything is lost or ambiguous.

--repair shows what it will append and then does it: rows and values that the journal
has and the file has lost. Torn ends are set aside in files of their own, missing files
made anew. Where a column was cut out, or cells moved into other columns, the file is
kept as it is under another name and written anew. Of a row that differs from what was
recorded in one cell your edit stays; one that differs in several is yours to settle.`,
		Example: "  slipcase check\n  slipcase check --repair",
		Args:    cobra.NoArgs,
		RunE:    do(a.check),
	}
	c.Flags().Bool("repair", false, "append what was lost and set torn ends aside")
	return c
}

func (a *app) check(c *cobra.Command, _ []string) error {
	repair, _ := c.Flags().GetBool("repair")
	lb, err := a.open()
	result := checked{Logbook: a.dir, Repaired: []logbook.Mend{}}
	if errors.Is(err, logbook.ErrNoVersion) && logbook.Abandoned(a.dir) || errors.Is(err, logbook.ErrDamagedVersion) {
		if !repair {
			return err
		}
		options := a.options()
		options.Units = a.units
		if err := logbook.RepairVersion(a.dir, options); err != nil {
			return err
		}
		result.Repaired = append(result.Repaired, logbook.Mend{
			File: "logbook.json", Do: logbook.DoMake, Line: logbook.UnitsOf(a.dir).String(),
		})
		lb, err = a.open()
	}
	if err != nil {
		return err
	}
	var failed error
	if repair {
		bar := a.tty.Bar("repairing")
		failed = lb.Repair(func(mends []logbook.Mend) error {
			bar.Step(0, len(mends))
			result.Repaired = append(result.Repaired, mends...)
			return nil
		})
		bar.Stop()
	}
	if result.Findings, err = lb.Check(); err != nil {
		return err
	}
	for i, f := range result.Findings {
		if f.Kind == logbook.NoAir {
			result.Findings[i].What += ": " + page.AirHow(f.Air)
		}
		if f.Grave {
			result.Grave++
		}
	}
	if err := a.page.Answer(result, findingsTable(result.Findings), func(w io.Writer) {
		checkText(w, result)
	}); err != nil {
		return err
	}
	if failed != nil {
		return &advised{fmt.Errorf("not repaired: %w", failed), remedies(result.Findings, true)}
	}
	if result.Grave > 0 {
		err := fmt.Errorf("%d %s lost or ambiguous", result.Grave, page.Plural(result.Grave, "thing is", "things are"))
		return &advised{err, remedies(result.Findings, repair)}
	}
	return nil
}

func checkText(w io.Writer, r checked) {
	for _, m := range r.Repaired {
		switch m.Do {
		case logbook.DoAppend:
			fmt.Fprintf(w, "+ %s  %s\n", m.File, table.Clean(m.Line))
		case logbook.DoSetAside:
			fmt.Fprintf(w, "- %s  the torn end, kept in %s.torn-...\n", m.File, m.File)
		case logbook.DoWiden:
			columns := page.Plural(strings.Count(m.Line, ",")+1, "column", "columns")
			fmt.Fprintf(w, "+ %s  at its end the %s %s; as it was it is kept in %[1]s.before-...\n", m.File, columns,
				table.Clean(m.Line))
		case logbook.DoDrop:
			fmt.Fprintf(w, "- %s  %s; as it was it is kept in %s.before-...\n", m.File, table.Clean(m.Line), m.File)
		case logbook.DoRemove:
			fmt.Fprintf(w, "- %s  removed\n", m.File)
		case logbook.DoConvert:
			fmt.Fprintf(w, "+ %s  as UTF-8 with line ends; as it was it is kept in %s.before-...\n", m.File, m.File)
		case logbook.DoRemake:
			fmt.Fprintf(w, "+ %s  made anew from the journal; as it was it is kept in %s.before-...\n", m.File, m.File)
		case logbook.DoJournal:
			fmt.Fprintf(w, "+ journal.jsonl  %s of %s\n", table.Clean(m.Line), m.File)
		default:
			units := ""
			if m.Line != "" {
				units = ": bare numbers are in " + m.Line + " units"
			}
			fmt.Fprintf(w, "+ %s  made anew%s\n", m.File, units)
		}
	}
	if len(r.Repaired) > 0 {
		fmt.Fprintln(w, "repaired; now:")
	}
	for _, f := range r.Findings {
		mark := " "
		if f.Grave {
			mark = "!"
		}
		fmt.Fprintf(w, "%s %s\n", mark, table.Clean(f.String()))
	}
	remarks := len(r.Findings) - r.Grave
	if len(r.Findings) == 0 {
		fmt.Fprintf(w, "checked  %s: nothing wrong\n", r.Logbook)
		return
	}
	fmt.Fprintf(w, "checked  %s: %d lost or ambiguous, %d %s\n", r.Logbook, r.Grave, remarks,
		page.Plural(remarks, "remark", "remarks"))
}

func findingsTable(fs []logbook.Finding) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "kind", Key: "kind"},
		{Head: "grave", Key: "grave"},
		{Head: "file", Key: "file"},
		{Head: "line", Key: "line", Right: true},
		{Head: "id", Key: "id"},
		{Head: "what", Key: "what"},
	}}
	for _, f := range fs {
		line := ""
		if f.Line > 0 {
			line = strconv.Itoa(f.Line)
		}
		t.Add(string(f.Kind), strconv.FormatBool(f.Grave), f.File, line, f.ID, f.What)
	}
	return t
}
