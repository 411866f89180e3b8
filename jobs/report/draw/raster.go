package draw

import (
	"image"
	"image/color"
	stddraw "image/draw"
	"image/png"
	"io"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
)

// PNG writes the scene with its inks as these colours, so many pixels a drawing unit. Text
// is set in the Go fonts, which the program carries; a character that they lack is a box.
// The same scene gives the same bytes on the same kind of machine.
func (s *Scene) PNG(w io.Writer, colours Palette, pixels float64) error {
	size := image.Rect(0, 0, max(1, int(math.Round(s.Width*pixels))), max(1, int(math.Round(s.Height*pixels))))
	c := &canvas{image: image.NewRGBA(size), colours: colours, pixels: pixels, faces: map[faceKey]font.Face{}}
	stddraw.Draw(c.image, size, image.NewUniform(colours.of(Ground)), image.Point{}, stddraw.Src)
	for _, shape := range s.Shapes {
		switch shape := shape.(type) {
		case *Path:
			c.path(shape)
		case *Circle:
			c.circle(shape)
		case *Dots:
			for _, at := range shape.At {
				c.circle(&Circle{At: at, Radius: shape.Radius, Fill: shape.Ink})
			}
		case *Text:
			if err := c.text(shape); err != nil {
				return err
			}
		}
	}
	return png.Encode(w, c.image)
}

// A canvas is a picture in the making.
type canvas struct {
	image   *image.RGBA
	colours Palette
	pixels  float64 // a drawing unit
	faces   map[faceKey]font.Face
}

// fill lays a colour, or a pattern, on the inside of the outlines. All of them go round the
// same way: overlaps of outlines that go round against each other would be holes.
func (c *canvas) fill(src image.Image, outlines ...[]Point) {
	box := c.around(outlines)
	if box.Empty() {
		return
	}
	r := vector.NewRasterizer(box.Dx(), box.Dy())
	for _, outline := range outlines {
		for i, p := range outline {
			x, y := float32(within(p.X*c.pixels-float64(box.Min.X), box.Dx())), float32(within(p.Y*c.pixels-float64(box.Min.Y), box.Dy()))
			if i == 0 {
				r.MoveTo(x, y)
			} else {
				r.LineTo(x, y)
			}
		}
		r.ClosePath()
	}
	r.Draw(c.image, box, src, box.Min)
}

// around is the part of the picture that outlines reach.
func (c *canvas) around(outlines [][]Point) image.Rectangle {
	size := c.image.Bounds()
	left, top, right, bottom := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, outline := range outlines {
		for _, p := range outline {
			x, y := within(p.X*c.pixels, size.Dx()), within(p.Y*c.pixels, size.Dy())
			left, top, right, bottom = min(left, x), min(top, y), max(right, x), max(bottom, y)
		}
	}
	if left > right {
		return image.Rectangle{}
	}
	return image.Rect(int(math.Floor(left)), int(math.Floor(top)), int(math.Ceil(right))+1, int(math.Ceil(bottom))+1).Intersect(size)
}

// within keeps a coordinate near the picture; what is no number is at its edge.
func within(x float64, size int) float64 {
	if x != x {
		return 0
	}
	return min(max(x, -100), float64(size)+100)
}

func (c *canvas) ink(i Ink) image.Image { return image.NewUniform(c.colours.of(i)) }

func (c *canvas) path(p *Path) {
	if p.Closed && p.Fill != None {
		c.fill(c.ink(p.Fill), p.Points)
	}
	if p.Closed && p.Hatch {
		c.fill(&hatch{c.colours.of(Rule), c.pixels, hatchOf(p), c.image.Bounds()}, p.Points)
	}
	if p.Stroke == None || len(p.Points) < 2 {
		return
	}
	line := p.Points
	if p.Closed {
		line = append(append([]Point{}, line...), line[0])
	}
	var outlines [][]Point
	for _, piece := range dashes(line, p.Dash) {
		outlines = append(outlines, strokeOf(piece, p.Width/2, p.Closed)...)
	}
	c.fill(c.ink(p.Stroke), outlines...)
}

// dashes cuts a line into pieces with gaps of three fifths of their length.
func dashes(line []Point, on float64) [][]Point {
	if !(on > 0) {
		return [][]Point{line}
	}
	period := 1.6 * on
	var pieces [][]Point
	begun := 0.0 // length of the line up to the segment
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		length := math.Hypot(b.X-a.X, b.Y-a.Y)
		if !(length > 0) || length > 1000*period {
			continue
		}
		place := func(d float64) Point { return Point{a.X + (b.X-a.X)*d/length, a.Y + (b.Y-a.Y)*d/length} }
		for k := math.Floor(begun / period); k*period < begun+length; k++ {
			from, to := max(0, k*period-begun), min(length, k*period+on-begun)
			if from < to {
				pieces = append(pieces, []Point{place(from), place(to)})
			}
		}
		begun += length
	}
	return pieces
}

// strokeOf outlines a line half a width to either side, a four-cornered piece a segment and
// a disc at each bend, all going round the same way.
func strokeOf(line []Point, half float64, closed bool) [][]Point {
	var outlines [][]Point
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		length := math.Hypot(b.X-a.X, b.Y-a.Y)
		if !(length > 0) {
			continue
		}
		dx, dy := half*(b.Y-a.Y)/length, half*(b.X-a.X)/length
		outlines = append(outlines, []Point{{a.X + dx, a.Y - dy}, {b.X + dx, b.Y - dy}, {b.X - dx, b.Y + dy}, {a.X - dx, a.Y + dy}})
		if closed || i > 1 {
			outlines = append(outlines, round(a, half))
		}
	}
	return outlines
}

// round is a circle as an outline, going round as pieces of lines do.
func round(at Point, radius float64) []Point {
	const corners = 48
	points := make([]Point, corners)
	for k := range points {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / corners)
		points[k] = Point{at.X + radius*cos, at.Y + radius*sin}
	}
	return points
}

func (c *canvas) circle(s *Circle) {
	if s.Stroke != None && s.Width > 0 {
		c.fill(c.ink(s.Stroke), round(s.At, s.Radius+s.Width/2))
		if s.Fill == None { // a ring of nothing lets the ground through
			c.fill(c.ink(Ground), round(s.At, s.Radius-s.Width/2))
		} else {
			c.fill(c.ink(s.Fill), round(s.At, s.Radius-s.Width/2))
		}
		return
	}
	if s.Fill != None {
		c.fill(c.ink(s.Fill), round(s.At, s.Radius))
	}
}

func (c *canvas) text(t *Text) error {
	face, err := c.face(t)
	if err != nil {
		return err
	}
	d := font.Drawer{Dst: c.image, Src: c.ink(t.Ink), Face: face}
	x := t.At.X * c.pixels
	switch advance := float64(d.MeasureString(t.Words)) / 64; t.Anchor {
	case Middle:
		x -= advance / 2
	case End:
		x -= advance
	}
	d.Dot = fixed.Point26_6{X: fixed.Int26_6(math.Round(x * 64)), Y: fixed.Int26_6(math.Round(t.At.Y * c.pixels * 64))}
	d.DrawString(t.Words)
	return nil
}

// hatch is a picture of lines at 45 degrees, a pitch apart.
type hatch struct {
	colour color.RGBA
	pixels float64
	pitch  float64
	bounds image.Rectangle
}

func (h *hatch) ColorModel() color.Model { return color.RGBAModel }
func (h *hatch) Bounds() image.Rectangle { return h.bounds }

// At is the colour by how far the pixel's middle lies from the nearest line.
func (h *hatch) At(x, y int) color.Color {
	across := (float64(x) + float64(y) + 1) / math.Sqrt2 / h.pixels
	off := math.Abs(math.Mod(across, h.pitch) - h.pitch/2)
	cover := min(1, max(0, (h.pitch/hatchPitch/2-off)*h.pixels+0.5))
	part := func(v uint8) uint8 { return uint8(math.Round(float64(v) * cover)) }
	return color.RGBA{part(h.colour.R), part(h.colour.G), part(h.colour.B), part(h.colour.A)}
}
