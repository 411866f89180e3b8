package claim

import "math"

// A Plane is how far inside a claim rows lie, as a linear function of two inputs alone:
// margin = At + X x + Y y. Where it is nil the two make the claim even.
type Plane struct {
	At, X, Y  float64
	Explained float64 // share of the margin's variance, 0 to 1; not adjusted for the inputs' number
}

const (
	fewestForPlane = 30    // rows. Common practice, no source
	oneDirection   = 1e-9  // of the inputs' spreads, below which they lie on a line
	leastSpread    = 1e-13 // of a variance beside the mean square: nothing but rounding
)

// Through lays a plane through margins over two inputs of the same rows, by least squares.
// Rows with a value that is not finite take no part. ok is false with fewer than 30 rows,
// where the inputs do not spread in two directions, or where the margin does not spread.
func Through(x, y, margin []float64) (p Plane, ok bool) {
	var mean, square [3]float64
	n := 0.0
	each := func(use func(row [3]float64)) {
		for i := range margin {
			if row := [3]float64{x[i], y[i], margin[i]}; finite(row[0]) && finite(row[1]) && finite(row[2]) {
				use(row)
			}
		}
	}
	each(func(row [3]float64) {
		n++
		for k, v := range row {
			mean[k] += (v - mean[k]) / n
			square[k] += float64(v * v)
		}
	})
	if n < fewestForPlane {
		return Plane{}, false
	}
	var xx, xy, yy, xz, yz, zz float64
	each(func(row [3]float64) {
		dx, dy, dz := row[0]-mean[0], row[1]-mean[1], row[2]-mean[2]
		xx, xy, yy = xx+float64(dx*dx), xy+float64(dx*dy), yy+float64(dy*dy)
		xz, yz, zz = xz+float64(dx*dz), yz+float64(dy*dz), zz+float64(dz*dz)
	})
	both := float64(xx*yy) - float64(xy*xy)
	if !(both > oneDirection*xx*yy) || !(xx > leastSpread*square[0]) || !(yy > leastSpread*square[1]) || !(zz > leastSpread*square[2]) {
		return Plane{}, false
	}
	p.X, p.Y = (float64(xz*yy)-float64(yz*xy))/both, (float64(yz*xx)-float64(xz*xy))/both
	p.At = mean[2] - float64(p.X*mean[0]) - float64(p.Y*mean[1])
	p.Explained = (float64(p.X*xz) + float64(p.Y*yz)) / zz
	return p, finite(p.X) && finite(p.Y) && finite(p.At) && finite(p.Explained)
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
