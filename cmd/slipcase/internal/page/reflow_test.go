package page

import "testing"

func TestReflowed(t *testing.T) {
	const text = "HEAD\nOne two three\nfour five six.\n\nExamples:\n  slipcase dial\n\n    $ slipcase dial\n    dial 13.14: 15 %\n" +
		"\nThe last\nExit status: 0"
	for _, c := range []struct {
		width int
		want  string
	}{
		{0, text},
		{30, text},
		{
			17, "HEAD\nOne two three\nfour five six.\n\nExamples:\n  slipcase dial\n\n$ slipcase dial\ndial 13.14: 15 %\n" +
				"\nThe last\nExit status: 0",
		},
		{
			14, "HEAD\nOne two three\nfour five six.\n\nExamples:\n  slipcase\n    dial\n\n$ slipcase\n  dial\ndial 13.14:\n  15 %\n" +
				"\nThe last\nExit status: 0",
		},
		{
			24, text,
		},
	} {
		if got := Reflowed(text, c.width); got != c.want {
			t.Errorf("%d columns:\n%s\nwant\n%s", c.width, got, c.want)
		}
	}
}
