package draw

import (
	"bytes"
	"encoding/xml"
	"image/color"
	"image/png"
	"io"
	"math"
	"strings"
	"testing"
)

// TestPNG: shapes lie where the scene puts them, in their colours; the same scene gives the
// same bytes.
func TestPNG(t *testing.T) {
	s := &Scene{Width: 100, Height: 60}
	s.Area([]Point{{0, 30}, {50, 30}, {50, 60}, {0, 60}}, CandWash)
	s.Area([]Point{{50, 30}, {100, 30}, {100, 60}, {50, 60}}, None).Hatch = true
	s.Line(10, 10, 90, 10, Dark, 4)
	s.Line(0, 20, 100, 20, Dark, 2).Dash = Dash
	s.Disc(25, 45, 6, Base)
	s.Ring(75, 45, 6, Cand)
	s.Say(60, 8, "words", Start, Dark)
	var first, again bytes.Buffer
	for _, b := range []*bytes.Buffer{&first, &again} {
		if err := s.PNG(b, LightColours, 4); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(first.Bytes(), again.Bytes()) {
		t.Error("drawn again it has other bytes")
	}
	picture, err := png.Decode(&first)
	if err != nil {
		t.Fatal(err)
	}
	if size := picture.Bounds(); size.Dx() != 400 || size.Dy() != 240 {
		t.Fatalf("%v, want 400 by 240", size)
	}
	at := func(x, y float64) color.RGBA {
		return color.RGBAModel.Convert(picture.At(int(4*x), int(4*y))).(color.RGBA)
	}
	for _, want := range []struct {
		x, y float64
		ink  Ink
	}{{25, 45, Base}, {75, 45, Ground}, {81, 45, Cand}, {5, 55, CandWash}, {30, 10, Dark}, {30, 14, Ground}, {2, 20, Dark}, {6.5, 20, Ground}} {
		if got := at(want.x, want.y); got != LightColours.of(want.ink) {
			t.Errorf("at %v, %v: %v, want %s", want.x, want.y, got, want.ink)
		}
	}
	share := func(x1, y1, x2, y2 int) float64 {
		n := 0
		for x := x1; x < x2; x++ {
			for y := y1; y < y2; y++ {
				if at(float64(x)/4, float64(y)/4) != LightColours.of(Ground) {
					n++
				}
			}
		}
		return float64(n) / float64((x2-x1)*(y2-y1))
	}
	if got := share(340, 125, 398, 235); got < 0.15 || got > 0.6 {
		t.Errorf("the hatch covers %.2f of its area", got)
	}
	if got := share(240, 0, 390, 32); got < 0.1 {
		t.Error("no words were written")
	}
}

// TestPNGOfAnything: places that are no numbers, endless lines and dashes end.
func TestPNGOfAnything(t *testing.T) {
	s := &Scene{Width: 50, Height: 50}
	for _, x := range []float64{math.NaN(), math.Inf(1), -math.MaxFloat64, 1e300, 0.1 + 0.2} {
		s.Line(x, 0, 10, x, Dark, 2).Dash = Dash
		s.Line(0, 0.3, 37.7, x, Dark, 2).Dash = 0.7
		s.Disc(x, x, x, Base)
		s.Area([]Point{{x, 1}, {2, x}, {x, x}}, Wash).Hatch = true
		s.Say(x, x, "\u0000漢字 \u202e", Middle, Dark)
	}
	if err := s.PNG(io.Discard, DarkColours, 2); err != nil {
		t.Error(err)
	}
}

// TestFile: a drawing on its own is well-formed, needs no style sheet and holds no markup
// of a stranger's.
func TestFile(t *testing.T) {
	s := &Scene{Width: 10, Height: 10, Title: `<b>"&'`}
	s.Say(1, 1, `</svg><script>`, Start, Dark).Bold = true
	s.Area([]Point{{0, 0}, {1, 0}, {1, 1}}, None).Hatch = true
	s.Disc(1, 1, 1, Dark).Tip = "not shown"
	text := s.File("x", LightColours, "160mm", "90mm")
	if err := xml.NewDecoder(strings.NewReader(text)).Decode(new(any)); err != nil {
		t.Error(err)
	}
	d := xml.NewDecoder(strings.NewReader(text))
	for {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		if e, ok := token.(xml.StartElement); ok && e.Name.Local == "script" {
			t.Error("a stranger's words became markup")
		}
	}
	if strings.Contains(text, "class=") || strings.Contains(text, "not shown") || !strings.Contains(text, "#15202b") {
		t.Error(text)
	}
}
