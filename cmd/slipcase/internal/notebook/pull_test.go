package notebook

import (
	"math"
	"strings"
	"testing"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"

	"slipcase/cmd/slipcase/internal/crew"
)

func pullOf(text string, ask PullAsk) (crew.Pulled, error) { return ReadPull([]byte(text), ask) }

// NIST SP 811, B.8: 1 hp (550 ft·lbf/s) is 745.6999 W, 1 lbf·ft 1.355818 N·m; a metric
// horsepower is 735.4988 W, a kilopond metre 9.80665 N·m.
const hpPerKW, hpPerPS, lbFtPerNm = 1000 / 745.6999, 735.4988 / 745.6999, 1 / 1.355818

// The forms in which dynos and spreadsheets save a pull; each is 100 (or 150) of its unit
// at 3,000 rpm and more at 3,500.
func TestReadPull(t *testing.T) {
	for _, c := range []struct {
		name, text   string
		hp, lbFt     float64 // at 3,000 rpm
		at, standard string
	}{
		{"plain", "rpm,hp\n3000,100\n3500,120.5\n", 100, 0, "", ""},
		{"any order, another column, grouped", "note,Power (hp),Engine RPM\nx,100,\"3,000\"\n\ny,120,3500", 100, 0, "", ""},
		{"decimal comma", "rpm;hp\n3000;100,5\n3500;120,5\n", 100.5, 0, "", ""},
		{"tabs", "power/hp\tengine speed\n100\t3000\n120\t3500\n", 100, 0, "", ""},
		{"bars", "rpm|kW\n3000|100\n3500|120\n", 100 * hpPerKW, 0, "", ""},
		{"metric horses", "rpm,PS\n3000,100\n3500,120\n", 100 * hpPerPS, 0, "", ""},
		{"torque alone", "\xef\xbb\xbfrpm,torque_lb_ft\n3000,262\n3500,270\n", 0, 262, "", ""},
		{"torque in kgm", "rpm,kgm\n3000,10\n3500,11\n", 0, 10 * 9.80665 * lbFtPerNm, "", ""},
		// 150 hp x 5252 / 3000 is 262.6 lb-ft, 179 hp at 3,500 is 268.6.
		{"torque told by the power beside it", "rpm,hp,torque\n3000,150,262.6\n3500,179,268.6\n", 150, 262.6, "", ""},
		// 100 kW x 9549.3 / 3000 is 318.3 N·m, 120 at 3,500 327.4.
		{"units told by each other", "rpm,power,torque\n3000,100,318.3\n3500,120,327.4\n", 100 * hpPerKW, 318.3 * lbFtPerNm, "", ""},
		{
			"title, line of units", "Pull 3 of 4;;\nDate;12.03.2026;\nrpm;Power;Torque\n1/min;kW;Nm\n3000;100,0;318,3\n3500;120,0;327,4\n",
			100 * hpPerKW, 318.3 * lbFtPerNm, "", "",
		},
		{"standard in the title", "Run 12, corrected SAE J1349\nRPM,Wheel Power (hp)\n3000,100\n3500,120\n", 100, 0, "wheels", "sae"},
		{"older standard", "Correction: STD\nRPM,hp\n3000,100\n3500,120\n", 100, 0, "", "standard"},
		{"standard in the heading", "rpm,hp DIN\n3000,100\n3500,120\n", 100, 0, "", "din"},
		{"uncorrected", "rpm,Power uncorrected (hp)\n3000,100\n3500,120\n", 100, 0, "", "none"},
		{"rpm x 1000", "rpm x1000,hp\n3.0,100\n3.5,120\n", 100, 0, "", ""},
		{"thousands by their size", "rpm,hp\n3.0,100\n3.5,120\n", 100, 0, "", ""},
		{"German", "Drehzahl [U/min];Motorleistung [PS]\n3000;100\n3500;120\n", 100 * hpPerPS, 0, "clutch", ""},
		{"French", "Régime (tr/min);Puissance (ch);Couple (Nm)\n3000;100;234,1\n3500;120;240,8\n", 100 * hpPerPS, 234.1 * lbFtPerNm, "", ""},
		{"Italian", "Giri;Potenza alla ruota [CV]\n3000;100\n3500;120\n", 100 * hpPerPS, 0, "wheels", ""},
		{"Spanish", "Régimen (rpm);Potencia en rueda (CV)\n3000;100\n3500;120\n", 100 * hpPerPS, 0, "wheels", ""},
		{"Swedish", "Varvtal (v/min);Effekt (hk)\n3000;100\n3500;120\n", 100 * hpPerPS, 0, "", ""},
		{"Dutch", "Toerental;Vermogen (pk)\n3000;100\n3500;120\n", 100 * hpPerPS, 0, "", ""},
		{"Polish", "Obroty [obr/min];Moc [KM]\n3000;100\n3500;120\n", 100 * hpPerPS, 0, "", ""},
		{"Russian", "Обороты (об/мин);Мощность (л.с.)\n3000;100\n3500;120\n", 100 * hpPerPS, 0, "", ""},
		{
			"losses and speeds passed over", "Drehzahl 1/min;Geschw. km/h;P-Rad PS;P-Schlepp PS\n3000;60;100;20\n3500;70;120;22\n",
			100 * hpPerPS, 0, "wheels", "",
		},
		{"one figure in two units", "rpm,hp,kW\n3000,100,74.57\n3500,120,89.48\n", 100, 0, "", ""},
		{"falling at the end", "rpm,hp\n2900,95\n3000,100\n3500,120\n3400,10\n2000,5\n", 100, 0, "", ""},
		{"from the top down", "rpm,hp\n3500,120\n3000,100\n", 100, 0, "", ""},
		{"a foot under it", "rpm,hp\n3000,100\n3500,120\nmax,120\n", 100, 0, "", ""},
		{"a unit in the cell", "rpm,power (hp)\n3000 rpm,100 hp\n3500 rpm,120 hp\n", 100, 0, "", ""},
	} {
		p, err := pullOf(c.text, PullAsk{})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		i := 0
		for p.Rows[i].RPM < 3000 {
			i++
		}
		r := p.Rows[i]
		near := func(got, want float64) bool { return math.Abs(got-want) < 1e-3*math.Max(1, want) }
		if r.RPM != 3000 || p.Rows[len(p.Rows)-1].RPM != 3500 || !near(r.PowerHP.Value(), c.hp) ||
			!near(r.LbFt.Value(), c.lbFt) ||
			p.Power.At != c.at ||
			p.Standard != c.standard {
			t.Errorf("%s: %+v", c.name, p)
		}
	}
}

// The same text in the alphabets that programs of the last thirty years save.
func TestReadPullAlphabets(t *testing.T) {
	const text = "Prüfstand; Lufttemperatur: 24 °C; Luftdruck: 1003 hPa; Luftfeuchte: 45 %\r\n" +
		"Drehzahl [1/min];P-Rad [PS];P-Mot [PS]\r\n3000;100,5;118\r\n3500;120,5;141\r\n"
	latin, err := charmap.Windows1252.NewEncoder().String(text)
	if err != nil {
		t.Fatal(err)
	}
	little, err := unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewEncoder().String(text)
	if err != nil {
		t.Fatal(err)
	}
	big, err := unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM).NewEncoder().String(text)
	if err != nil {
		t.Fatal(err)
	}
	for name, data := range map[string]string{"UTF-8": text, "Windows-1252": latin, "UTF-16": little, "UTF-16, big": big} {
		p, err := pullOf(data, PullAsk{At: "clutch"})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		// 24 °C is 75.2 °F, 1003 hPa 29.62 inHg.
		if math.Abs(p.Rows[0].PowerHP.Value()-118*hpPerPS) > 0.01 || p.Power.At != "clutch" || !p.CommaDecimal ||
			math.Abs(
				p.TempF.Value()-75.2,
			) > 0.01 || math.Abs(p.StationInHg.Value()-29.62) > 0.01 || p.RHPct.Value() != 45 {
			t.Errorf("%s: %+v", name, p)
		}
	}
}

func TestReadPullRefuses(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"", "empty"},
		{"rpm\n3000\n", "neither power nor torque"},
		{"hp,torque\n1,2\n", "want one headed rpm"},
		{"rpm,power\n3000,150\n3500,170\n", `column "power" has no unit: want it in the heading`},
		{"rpm,torque\n3000,262\n3500,270\n", `column "torque" has no unit`},
		{"rpm,Power 1 (hp),Power 2 (hp)\n3000,150,160\n3500,170,180\n", "2 columns of power"},
		{"rpm,hp\n3000,150\n3500,NaN\n", `row 3, column "hp": "NaN": want a plain number in hp`},
		{"rpm,hp\n3000,150\n", "one row or none is no curve"},
		{"rpm,hp\n3000,150\n6000,300\n3000,140\n6000,290\n", "rises more than once"},
		{"rpm,hp,lb-ft\n3000,171.4,300\n5252,400,300\n", "the sheet says 400.0"},
		{"\x89PNG\r\n", "a picture"},
	} {
		if p, err := pullOf(c.text, PullAsk{}); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q reads %+v, %v; want %q", c.text, p, err, c.want)
		}
	}
}

func FuzzPull(f *testing.F) {
	f.Add("rpm,hp\n3000,150\n")
	f.Add("Power (kW);rpm\n1,5;3000\n1,6;3500\n")
	f.Add("Prüfstand\nDrehzahl;P-Rad;M-Rad\n1/min;PS;Nm\n3000;100;234\n3500;120;240\n")
	f.Fuzz(func(t *testing.T, text string) {
		p, err := pullOf(text, PullAsk{})
		if err != nil {
			return
		}
		if len(p.Curve)+len(p.Spikes) > len(p.Rows) || len(p.Curve) < 2 {
			t.Errorf("%d rows, a curve of %d, %d left out", len(p.Rows), len(p.Curve), len(p.Spikes))
		}
		for _, r := range p.Rows {
			if r.Line < 2 {
				t.Errorf("row %+v", r)
			}
		}
	})
}
