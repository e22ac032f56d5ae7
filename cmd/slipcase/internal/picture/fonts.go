package picture

import (
	"sync"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	xfont "golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/text"
)

// sans is the font that is written with, bold where b is true.
func sans(b bool) font.Font {
	f := font.Font{Typeface: "Liberation", Variant: "Sans"}
	if b {
		f.Weight = xfont.WeightBold
	}
	return f
}

// plain sets lettering in the two fonts.
var plain = sync.OnceValue(func() text.Plain {
	var faces font.Collection
	for b, data := range map[bool][]byte{false: liberationsansregular.TTF, true: liberationsansbold.TTF} {
		of, err := opentype.Parse(data)
		if err != nil {
			panic("a font of the program does not read: " + err.Error())
		}
		faces = append(faces, font.Face{Font: sans(b), Face: of})
	}
	return text.Plain{Fonts: font.NewCache(faces)}
})
