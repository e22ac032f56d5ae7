package picture

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"html"
	"image/color"
	"io"
	"regexp"
	"strconv"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgpdf"
	"gonum.org/v1/plot/vg/vgsvg"

	"slipcase/cmd/slipcase/internal/page"
)

// Endings are those of the files that a picture is written to.
var Endings = []string{".svg", ".png", ".pdf"}

// dotsPerInch of a PNG: three dots to a unit.
const dotsPerInch = 216

// Write writes a chart as the ending says.
func Write(w io.Writer, c *page.Chart, ending string) error {
	d := layOut(c, true)
	var err error
	_, high := d.heights()
	switch ending {
	case ".png":
		canvas := vgimg.NewWith(vgimg.UseWH(width, high), vgimg.UseDPI(dotsPerInch))
		d.onto(draw.New(outlined{canvas}))
		_, err = vgimg.PngCanvas{Canvas: canvas}.WriteTo(w)
	case ".pdf":
		canvas := vgpdf.New(width, high)
		d.onto(draw.New(outlined{canvas}))
		_, err = canvas.WriteTo(w)
	default:
		var text string
		if text, err = d.svg(c.Kind, false); err == nil {
			_, err = io.WriteString(w, text)
		}
	}
	return err
}

// Inline is a chart as SVG within a page: without the title and words, which the page has
// as its own, in the page's colors; id is one that nothing else on the page has.
func Inline(c *page.Chart, id string) (string, error) {
	return layOut(c, false).svg(id, true)
}

var (
	prelude = regexp.MustCompile(`(?s)^.*?<svg[^>]*>\n`)
	blanks  = regexp.MustCompile(`\s*\n\s*`)
)

// svg writes the drawing as SVG with a title and a description.
func (d *drawing) svg(id string, inPage bool) (string, error) {
	_, high := d.heights()
	canvas := vgsvg.New(width, high)
	d.onto(draw.New(canvas))
	var out bytes.Buffer
	if _, err := canvas.WriteTo(&out); err != nil {
		return "", err
	}
	body := prelude.ReplaceAllString(out.String(), "")
	head := fmt.Sprintf(
		`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %g" role="img" aria-labelledby="%s-t %s-d">
<title id="%s-t">%s</title>
<desc id="%s-d">%s</desc>
`,
		width,
		float64(high),
		id,
		id,
		id,
		escape(d.Title),
		id,
		escape(strings.Join(d.Says, " ")),
	)
	if !inPage {
		head = strings.Replace(head, "<svg ", fmt.Sprintf(`<svg width="%d" height="%g" `, width, float64(high)), 1)
	}
	body = measured(body)
	body = strings.ReplaceAll(body, "font-family:Liberation Sans;font-variant:normal;",
		"font-family:'Liberation Sans',Arimo,Arial,Helvetica,sans-serif;")
	body = strings.ReplaceAll(body, "font-weight:normal;font-style:normal;", "")
	if inPage {
		body = colored(body)
	}
	return blanks.ReplaceAllString(head+body, "\n"), nil
}

var written = regexp.MustCompile(`(?s)<text ([^>]*font-weight:(\w+)[^>]*font-size:([\d.]+)px[^>]*)>([^<]*)</text>`)

// measured says how long each piece of lettering is, so that it is as long in any font that
// the reader has; but not of alphabets that the measuring font lacks.
func measured(svg string) string {
	return written.ReplaceAllStringFunc(svg, func(element string) string {
		part := written.FindStringSubmatch(element)
		words := html.UnescapeString(part[4])
		size, err := strconv.ParseFloat(part[3], 64)
		if err != nil || strings.ContainsFunc(words, func(r rune) bool { return r > 0x24f && r != '…' && r != '−' }) {
			return element
		}
		long := lettered(vg.Length(size), part[2] == "bold").Rectangle(words).Size().X
		return fmt.Sprintf(
			`<text %s textLength="%.1f" lengthAdjust="spacingAndGlyphs">%s</text>`,
			part[1],
			float64(long),
			part[4],
		)
	})
}

// colored puts a page's variables in the place of fixed colors.
func colored(svg string) string {
	for _, v := range variables {
		svg = strings.ReplaceAll(svg, hex(v.of), "var("+v.name+")")
	}
	return svg
}

func hex(c color.RGBA) string { return fmt.Sprintf("#%02X%02X%02X", c.R, c.G, c.B) }

func escape(words string) string {
	var out strings.Builder
	xml.EscapeText(&out, []byte(words))
	return out.String()
}
