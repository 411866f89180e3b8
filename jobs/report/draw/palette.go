package draw

import (
	"fmt"
	"image/color"
)

// A Palette gives inks their colours, where no style sheet does.
type Palette map[Ink]uint32 // 0xRRGGBB

// Light and Dark colours are those of the page.
var (
	LightColours = Palette{Ground: 0xfbfcfb, Dark: 0x15202b, Soft: 0x4c5862, Rule: 0x838e96, Hair: 0xcdd3d4, Base: 0x1d5e9b, Cand: 0xb3430b,
		Wash: 0xeef2f3, BaseWash: 0xcfe0f0, CandWash: 0xf3d6c6}
	DarkColours = Palette{Ground: 0x10161b, Dark: 0xe8ecec, Soft: 0xaab5bb, Rule: 0x727e87, Hair: 0x36414a, Base: 0x7fb8ec, Cand: 0xf39a63,
		Wash: 0x1a232a, BaseWash: 0x1f3d58, CandWash: 0x5a3119}
)

func (p Palette) of(i Ink) color.RGBA {
	c := p[i]
	return color.RGBA{uint8(c >> 16), uint8(c >> 8), uint8(c), 255}
}

func (p Palette) hex(i Ink) string { return fmt.Sprintf("#%06x", p[i]) }
