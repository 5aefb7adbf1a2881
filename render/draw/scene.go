// Package draw makes the floor plans, plate details and charts as scenes of
// paths and labels, which are then written as SVG or as PDF operators.
package draw

// Scene is one drawing. Coordinates are millimetres on paper, origin top
// left, x right, y down.
type Scene struct {
	Name   string // "plate plan"; also the SVG's id
	Title  string
	Width  float64
	Height float64
	Items  []Item // painted in order
}

// Item is a Path or a Label.
type Item interface{ item() }

// Path is a run of segments, filled and stroked.
type Path struct {
	Segments []Segment
	Fill     Paint     // zero: none
	Stroke   Paint     // zero: none
	Width    float64   // of the stroke, mm
	Dash     []float64 // mm; nil: solid
	Class    string    // what it is: "plate", "indication"; for tests and the page
	ID       string    // data id: a plate's or indication's row key
	EvenOdd  bool      // holes by even-odd rule
}

// Op is the kind of a segment.
type Op uint8

// The segments: move, line, cubic curve, close.
const (
	Move Op = iota
	Line
	Curve
	Close
)

// Segment is one step of a path, ending at X, Y. A Curve has its two control
// points besides.
type Segment struct {
	Op             Op
	X, Y           float64
	X1, Y1, X2, Y2 float64
}

// Paint is a colour with 8 bits a channel; the zero Paint paints nothing.
type Paint struct {
	R, G, B uint8
	On      bool
}

// Anchor says which point of a label stands at its place.
type Anchor uint8

// The anchors, all on the text's baseline unless Middle.
const (
	Start  Anchor = iota // left end
	Centre               // middle of its width
	End                  // right end
)

// Label is a line of text.
type Label struct {
	Text   string
	X, Y   float64
	Size   float64 // mm, height of the em
	Anchor Anchor
	Middle bool    // Y is the middle of the letters, not the baseline
	Angle  float64 // degrees anticlockwise
	Bold   bool
	Paint  Paint
	Halo   bool // a thin light outline behind, to stay readable on lines
	Class  string
}

func (Path) item()  {}
func (Label) item() {}
