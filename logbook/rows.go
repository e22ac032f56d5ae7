package logbook

import "iter"

// each parses known rows once more, one after the other. The cells are good until
// the next row.
func (c *content) each(rows []rowRef) iter.Seq2[int, []string] {
	return func(yield func(int, []string) bool) {
		reader := newRowReader(c.data, c.dialect.comma)
		for i, r := range rows {
			rec, _, err := reader.read(r.start)
			if err != nil {
				panic("a row that was read once does not read again: " + err.Error())
			}
			if !yield(i, c.even(rec)) {
				return
			}
		}
	}
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
