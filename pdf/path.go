package pdf

// Path is an outline: lines and curves, in millimetres (8.5.2). Its methods
// return it, so that calls chain.
type Path struct{ steps []step }

type step struct {
	op string
	at []float64
}

func (o *Path) add(op string, at ...float64) *Path {
	o.steps = append(o.steps, step{op, at})
	return o
}

// Move begins a new stretch at x, y.
func (o *Path) Move(x, y float64) *Path { return o.add("m", x, y) }

// Line goes straight to x, y.
func (o *Path) Line(x, y float64) *Path { return o.add("l", x, y) }

// Curve goes to x, y along a cubic Bézier curve pulled by two points.
func (o *Path) Curve(x1, y1, x2, y2, x, y float64) *Path { return o.add("c", x1, y1, x2, y2, x, y) }

// Close goes back to where the stretch began.
func (o *Path) Close() *Path { return o.add("h") }

// Rect adds a rectangle whose corner is at x, y.
func (o *Path) Rect(x, y, w, h float64) *Path { return o.add("re", x, y, w, h) }

// quarter is how far along its tangent the pulling points of a quarter circle of
// radius 1 lie: 4/3·(√2-1), which stays within 0.03 % of the circle.
const quarter = 0.5522847498

// Round adds a rectangle with corners of radius r.
func (o *Path) Round(x, y, w, h, r float64) *Path {
	k := r * (1 - quarter)
	return o.Move(x+r, y).Line(x+w-r, y).Curve(x+w-k, y, x+w, y+k, x+w, y+r).
		Line(x+w, y+h-r).Curve(x+w, y+h-k, x+w-k, y+h, x+w-r, y+h).
		Line(x+r, y+h).Curve(x+k, y+h, x, y+h-k, x, y+h-r).
		Line(x, y+r).Curve(x, y+k, x+k, y, x+r, y).Close()
}
