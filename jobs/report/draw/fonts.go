package draw

import (
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/gobolditalic"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
)

type faceKey struct {
	size         float64
	bold, italic bool
}

// parsed are the fonts, by bold and italic, each parsed once.
var parsed = sync.OnceValues(func() (map[[2]bool]*opentype.Font, error) {
	fonts := map[[2]bool]*opentype.Font{}
	for _, f := range []struct {
		style [2]bool
		ttf   []byte
	}{{[2]bool{false, false}, goregular.TTF}, {[2]bool{true, false}, gobold.TTF}, {[2]bool{false, true}, goitalic.TTF}, {[2]bool{true, true}, gobolditalic.TTF}} {
		font, err := opentype.Parse(f.ttf)
		if err != nil {
			return nil, err
		}
		fonts[f.style] = font
	}
	return fonts, nil
})

// face is the font of a text at its size in pixels.
func (c *canvas) face(t *Text) (font.Face, error) {
	key := faceKey{t.Size * c.pixels, t.Bold, t.Italic}
	if face, there := c.faces[key]; there {
		return face, nil
	}
	fonts, err := parsed()
	if err != nil {
		return nil, err
	}
	face, err := opentype.NewFace(fonts[[2]bool{t.Bold, t.Italic}], &opentype.FaceOptions{Size: key.size, DPI: 72, Hinting: font.HintingNone})
	if err != nil {
		return nil, err
	}
	c.faces[key] = face
	return face, nil
}
