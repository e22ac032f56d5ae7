package logbook

import (
	"encoding/csv"
	"io"
	"iter"
)

// each parses known rows once more, one after the other. The cells are good until
// the next row.
func (c *content) each(rows []rowRef) iter.Seq2[int, []string] {
	return func(yield func(int, []string) bool) {
		r := csv.NewReader(&joined{data: c.data, rows: rows})
		r.Comma, r.ReuseRecord, r.FieldsPerRecord = c.dialect.comma, true, -1
		for i := range rows {
			rec, err := r.Read()
			if err != nil {
				panic("a row that was read once does not read again: " + err.Error())
			}
			if !yield(i, c.even(rec)) {
				return
			}
		}
	}
}

// joined reads rows as if they were one file.
type joined struct {
	data []byte
	rows []rowRef
	left []byte // of the row being read
}

func (j *joined) Read(b []byte) (int, error) {
	if len(j.left) == 0 {
		if len(j.rows) == 0 {
			return 0, io.EOF
		}
		first := j.rows[0]
		end := first.end
		for j.rows = j.rows[1:]; len(j.rows) > 0 && j.rows[0].start == end; j.rows = j.rows[1:] {
			end = j.rows[0].end // rows that follow each other go at once
		}
		j.left = j.data[first.start:end]
		if j.left[len(j.left)-1] != '\n' {
			j.left = append(j.left[:len(j.left):len(j.left)], '\n')
		}
	}
	n := copy(b, j.left)
	j.left = j.left[n:]
	return n, nil
}

// cells parses one row.
func (c *content) cells(r rowRef) []string {
	for _, row := range c.each([]rowRef{r}) {
		return row
	}
	return nil
}

// plainCells gives a row's numbers and times the form in which we would have written them.
func (c *content) plainCells(row []string) {
	c.plainTimes(row)
	if !c.dialect.decimalComma {
		return
	}
	for _, col := range c.schema.columns {
		if i, ok := c.at[col.name]; ok && col.number {
			row[i] = c.dialect.toPoint(row[i])
		}
	}
}
