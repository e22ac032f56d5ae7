package units

import (
	"errors"
	"fmt"
	"io"
	"testing"
)

func TestErrorIsSaidInEitherSystem(t *testing.T) {
	inner := Errorf("temperature %v is impossible: want %v", Temperature.Of(194), Temperature.Between(-148, 122))
	for _, c := range []struct {
		err  error
		s    System
		want string
	}{
		// 90 °C is 194 °F, -100 °C is -148 °F, 50 °C is 122 °F: NIST SP 811, B.8.
		{inner, US, "temperature 194 F is impossible: want -148 to 122 F"},
		{inner, Metric, "temperature 90 C is impossible: want -100 to 50 C"},
		{Errorf("--%s: %w", "temp", inner), Metric, "--temp: temperature 90 C is impossible: want -100 to 50 C"},
		{fmt.Errorf("reading: %w", inner), Metric, "reading: temperature 90 C is impossible: want -100 to 50 C"},
		{Errorf("%v", Length.Of(16000)), US, "16,000 ft"},
		{errors.New("plain"), Metric, "plain"},
		{Errorf("%q: want {88F|31C} or {6mph|10km/h}", "{a|b}"), US, `"{a|b}": want 88F or 6mph`},
		{fmt.Errorf("--temp: %w", Errorf("want {88F|31C}")), Metric, "--temp: want 31C"},
	} {
		if got := In(c.err, c.s); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
	if err := Errorf("reading: %w", io.EOF); !errors.Is(err, io.EOF) {
		t.Error("what is wrapped is not found")
	}
}
