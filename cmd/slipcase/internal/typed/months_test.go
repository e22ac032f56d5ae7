package typed

import "testing"

// TestOtherMonths: days with their months in other languages (from memory).
func TestOtherMonths(t *testing.T) {
	for _, c := range []struct {
		text string
		want Day
	}{
		{"15 juin 2023", Day{Year: 2023, Month: 6, Day: 15}},
		{"1er août 2023", Day{Year: 2023, Month: 8, Day: 1}},
		{"3. März 2024", Day{Year: 2024, Month: 3, Day: 3}},
		{"9 de mayo de 2022", Day{Year: 2022, Month: 5, Day: 9}},
		{"24-dic-2021", Day{Year: 2021, Month: 12, Day: 24}},
		{"7 maggio 2020, Pindle", Day{Year: 2020, Month: 5, Day: 7}},
		{"14. Dezember 2019", Day{Year: 2019, Month: 12, Day: 14}},
		{"24 Dec 2021", Day{Year: 2021, Month: 12, Day: 24}},
	} {
		if d, _, ok := ReadDay(c.text); !ok || d != c.want {
			t.Errorf("%q: %+v, %v; want %+v", c.text, d, ok, c.want)
		}
	}
	for _, text := range []string{"12 wet runs", "5 degé"} {
		if d, _, ok := ReadDay(text); ok {
			t.Errorf("%q: %+v", text, d)
		}
	}
}
