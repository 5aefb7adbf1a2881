package draw

// Canvas is what a scene is painted on. Paths and labels arrive in painting
// order, in the scene's own coordinates.
type Canvas interface {
	Path(Path)
	Label(Label)
}

// Paint hands every item to the canvas, in order.
func (s *Scene) Paint(c Canvas) {
	for _, it := range s.Items {
		switch it := it.(type) {
		case Path:
			c.Path(it)
		case Label:
			c.Label(it)
		}
	}
}

// Baseline is the left end of the label's baseline, in scene millimetres,
// whatever its anchor: where a text writer starts.
func (l Label) Baseline() (x, y float64) {
	return l.corner(l.Width(), 0, 0)
}
