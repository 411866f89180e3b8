// Package draw holds figures as scenes: shapes and texts in drawing units, with roles in
// place of colours. A scene is laid out once for a width and a type size; what writes it
// (SVG for a page or a file of its own) knows nothing of what it shows.
package draw

import "math"

// An Ink is the role of a line, a fill or a text: who prints it knows its colour.
type Ink string

// The inks. Base and Cand say baseline and candidate and nothing else.
const (
	None     Ink = ""
	Dark     Ink = "ink"
	Soft     Ink = "soft"
	Rule     Ink = "rule"
	Hair     Ink = "hair"
	Base     Ink = "base"
	Cand     Ink = "cand"
	Wash     Ink = "wash"
	BaseWash Ink = "base-wash"
	CandWash Ink = "cand-wash"
	Ground   Ink = "ground"
)

// Washed is the ink for an area that belongs to a mark of the given ink.
func Washed(i Ink) Ink {
	switch i {
	case Base:
		return BaseWash
	case Cand:
		return CandWash
	}
	return Wash
}

// A Point is a place in drawing units, y downwards.
type Point struct{ X, Y float64 }

// A Path is a line through points, closed or not.
type Path struct {
	Points []Point
	Closed bool
	Fill   Ink
	Hatch  bool    // instead of a fill
	Pitch  float64 // of the hatch, 0: hatchPitch
	Stroke Ink
	Width  float64
	Dash   float64 // units of a dash; its gap is three fifths of it; 0: a whole line
	Tip    string  // exact value, shown on demand; "" for none
}

// A Circle is a disc or a ring.
type Circle struct {
	At     Point
	Radius float64
	Fill   Ink
	Stroke Ink
	Width  float64
	Tip    string
}

// An Anchor says which end of a text stands at its place.
type Anchor string

// The anchors.
const (
	Start  Anchor = "start"
	Middle Anchor = "middle"
	End    Anchor = "end"
)

// A Text is one line of words; y is its base line.
type Text struct {
	At     Point
	Words  string
	Anchor Anchor
	Size   float64
	Ink    Ink
	Bold   bool
	Italic bool
}

// Dots are small discs of one size, as many as a cloud of draws has.
type Dots struct {
	At     []Point
	Radius float64
	Ink    Ink
}

// A Scene is a figure, Width by Height drawing units. Shapes are *Path, *Circle, *Dots or
// *Text, in the order in which they are drawn.
type Scene struct {
	Width, Height float64
	Title, About  string // what it is; what it says, with numbers
	Shapes        []any
}

// Dash is the length of a dash.
const Dash = 5

// TextSize is that of the words in a figure.
const TextSize = 13.5

// Line draws a straight line.
func (s *Scene) Line(x1, y1, x2, y2 float64, ink Ink, width float64) *Path {
	p := &Path{Points: []Point{{x1, y1}, {x2, y2}}, Stroke: ink, Width: width}
	s.Shapes = append(s.Shapes, p)
	return p
}

// Curve draws a line through points.
func (s *Scene) Curve(points []Point, ink Ink, width float64) *Path {
	p := &Path{Points: points, Stroke: ink, Width: width}
	s.Shapes = append(s.Shapes, p)
	return p
}

// Area fills a closed path.
func (s *Scene) Area(points []Point, fill Ink) *Path {
	p := &Path{Points: points, Closed: true, Fill: fill}
	s.Shapes = append(s.Shapes, p)
	return p
}

// Box fills and outlines a rectangle.
func (s *Scene) Box(x, y, w, h float64, fill, stroke Ink) *Path {
	p := s.Area([]Point{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}, fill)
	p.Stroke, p.Width = stroke, 1
	return p
}

// Disc draws a filled circle, cut free from what lies below by a ring of ground.
func (s *Scene) Disc(x, y, radius float64, ink Ink) *Circle {
	c := &Circle{At: Point{x, y}, Radius: radius, Fill: ink, Stroke: Ground, Width: 1.6}
	s.Shapes = append(s.Shapes, c)
	return c
}

// Ring draws a hollow circle.
func (s *Scene) Ring(x, y, radius float64, ink Ink) *Circle {
	c := &Circle{At: Point{x, y}, Radius: radius, Fill: Ground, Stroke: ink, Width: 1.6}
	s.Shapes = append(s.Shapes, c)
	return c
}

// Dots draws small discs, all alike.
func (s *Scene) Dots(at []Point, radius float64, ink Ink) {
	if len(at) > 0 {
		s.Shapes = append(s.Shapes, &Dots{at, radius, ink})
	}
}

// Lozenge draws a square that stands on a corner.
func (s *Scene) Lozenge(x, y, radius float64, fill, stroke Ink) *Path {
	p := s.Area([]Point{{x, y - radius}, {x + radius, y}, {x, y + radius}, {x - radius, y}}, fill)
	p.Stroke, p.Width = stroke, 1.2
	return p
}

// Plate writes words on a piece of ground of their size, where other marks may lie below.
func (s *Scene) Plate(x, y float64, words string, anchor Anchor) *Text {
	wide, left := Width(words, TextSize, false)+8, x-4
	switch anchor {
	case End:
		left = x + 4 - wide
	case Middle:
		left = x - wide/2
	}
	s.Box(left, y-13, wide, 18, Ground, None)
	return s.Say(x, y, words, anchor, Dark)
}

// Square draws a filled square, cut free like a disc.
func (s *Scene) Square(x, y, radius float64, ink Ink) *Path {
	p := s.Box(x-radius, y-radius, 2*radius, 2*radius, ink, Ground)
	p.Width = 1.6
	return p
}

// Cross marks what was announced.
func (s *Scene) Cross(x, y float64) {
	const arm = 5
	s.Line(x-arm, y-arm, x+arm, y+arm, Dark, 2.4)
	s.Line(x-arm, y+arm, x+arm, y-arm, Dark, 2.4)
}

// Arrow draws a small arrow from x1 to x2 on a level.
func (s *Scene) Arrow(x1, x2, y float64, ink Ink) {
	s.Line(x1, y, x2, y, ink, 1)
	back := math.Copysign(5, x1-x2)
	s.Curve([]Point{{x2 + back, y - 3.5}, {x2, y}, {x2 + back, y + 3.5}}, ink, 1)
}

// Say writes words.
func (s *Scene) Say(x, y float64, words string, anchor Anchor, ink Ink) *Text {
	t := &Text{At: Point{x, y}, Words: words, Anchor: anchor, Size: TextSize, Ink: ink}
	s.Shapes = append(s.Shapes, t)
	return t
}

// hatchPitch is how far lines of a hatch lie apart.
const hatchPitch = 5

func hatchOf(p *Path) float64 {
	if p.Pitch > 0 {
		return p.Pitch
	}
	return hatchPitch
}

// Place draws another scene into this one, its corner at x, y, so many times as large.
func (s *Scene) Place(other *Scene, x, y, times float64) {
	at := func(p Point) Point { return Point{x + times*p.X, y + times*p.Y} }
	for _, shape := range other.Shapes {
		switch shape := shape.(type) {
		case *Path:
			moved := *shape
			moved.Points = make([]Point, len(shape.Points))
			for i, p := range shape.Points {
				moved.Points[i] = at(p)
			}
			moved.Width, moved.Dash, moved.Pitch = moved.Width*times, moved.Dash*times, times*hatchOf(shape)
			s.Shapes = append(s.Shapes, &moved)
		case *Circle:
			moved := *shape
			moved.At, moved.Radius, moved.Width = at(shape.At), shape.Radius*times, shape.Width*times
			s.Shapes = append(s.Shapes, &moved)
		case *Dots:
			moved := *shape
			moved.Radius, moved.At = shape.Radius*times, make([]Point, len(shape.At))
			for i, p := range shape.At {
				moved.At[i] = at(p)
			}
			s.Shapes = append(s.Shapes, &moved)
		case *Text:
			moved := *shape
			moved.At, moved.Size = at(shape.At), shape.Size*times
			s.Shapes = append(s.Shapes, &moved)
		}
	}
}
