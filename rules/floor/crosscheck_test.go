package floor

import (
	"math"
	"math/rand"
	"strconv"
	"testing"

	"github.com/peterstace/simplefeatures/geom"
)

// The polygon library is an independent check of the areas, with circles as
// polygons of equal area.

func polygon(t *testing.T, pts []Point) geom.Geometry {
	t.Helper()
	flat := make([]float64, 0, 2*len(pts)+2)
	for _, q := range pts {
		flat = append(flat, q.X, q.Y)
	}
	flat = append(flat, pts[0].X, pts[0].Y)
	g := geom.NewPolygon([]geom.LineString{geom.NewLineString(geom.NewSequence(flat, geom.DimXY))})
	return g.AsGeometry()
}

func manySides(o disc) []Point {
	const n = 1024
	r := o.r * math.Sqrt(2*math.Pi/(n*math.Sin(2*math.Pi/n)))
	out := make([]Point, n)
	for i := range out {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / n)
		out[i] = Point{o.at.X + r*cos, o.at.Y + r*sin}
	}
	return out
}

func must(t *testing.T, g geom.Geometry, err error) geom.Geometry {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func TestAreasAgreeWithPolygonLibrary(t *testing.T) {
	rng := rand.New(rand.NewSource(7))
	for trial := range 12 {
		in := tank(8000, 50)
		for k := range 7 {
			w := placed(in, strconv.Itoa(k), rng.Float64()*7000-4500, rng.Float64()*7000-4500, 1500+rng.Float64()*2500, 900+rng.Float64()*1500)
			w.Turned = deg(rng.Float64() * 360)
		}
		sump(in, "S1", 90, 1500, 800, 500, 0)
		sump(in, "S2", 200, 2200, 0, 0, 900)
		if trial%3 == 0 {
			sump(in, "S3", 205, 2500, 700, 700, 0) // over the round one
			sump(in, "S4", 300, 3900, 0, 0, 600)   // across the rim
		}
		p := Place(in)
		rim := polygon(t, manySides(disc{r: 4000}))
		var holes geom.Geometry
		for k, o := range p.Openings {
			g := polygon(t, o.Bounds().outline())
			if o.Round {
				g = polygon(t, manySides(disc{o.At, o.Length / 2}))
			}
			if k == 0 {
				holes = g
			} else {
				u, err := geom.Union(holes, g)
				holes = must(t, u, err)
			}
		}
		var kept geom.Geometry
		for i := range p.Plates {
			pl := &p.Plates[i]
			box, err := geom.Intersection(polygon(t, p.rectangle(pl)), rim)
			cut, err2 := geom.Difference(must(t, box, err), holes)
			cut = must(t, cut, err2)
			closeTo(t, "cut", float64(pl.CutArea), cut.Area()/1e6, 2e-5)
			net := cut
			if i > 0 {
				net, err = geom.Difference(cut, kept)
				net = must(t, net, err)
			}
			closeTo(t, "net", float64(pl.NetArea), net.Area()/1e6, 2e-5)
			closeTo(t, "net outline", shapeArea(pl.Net)/1e6, net.Area()/1e6, 0.01)
			whole := polygon(t, p.rectangle(pl))
			if i == 0 {
				kept = whole
			} else {
				kept, err = geom.Union(kept, whole)
				kept = must(t, kept, err)
			}
			var boxes []Box
			var under geom.Geometry
			for k := range 6 {
				b := BoxAt(Point{rng.Float64() * pl.Length, rng.Float64() * pl.Width}, 100+rng.Float64()*900, 100+rng.Float64()*900)
				boxes = append(boxes, b)
				ring, _ := p.Outline(i, b)
				if k == 0 {
					under = polygon(t, ring)
				} else {
					under, err = geom.Union(under, polygon(t, ring))
					under = must(t, under, err)
				}
			}
			part, err := geom.Intersection(under, cut)
			closeTo(t, "boxes", float64(p.UnionArea(i, boxes).V), must(t, part, err).Area()/1e6, 2e-5)
		}
	}
}

func TestHoleAgreesWithPolygonLibrary(t *testing.T) {
	in := bricks(20000, 50, 6000, 1800, 0)
	gone := -1
	for i := range in.Plates {
		if in.Plates[i].Label.Value == "6-2" {
			gone = i
		}
	}
	p := Place(in)
	rim := polygon(t, manySides(disc{r: 10000}))
	left := rim
	for i := range p.Plates {
		// place every plate by its own coordinates, then leave one out
		in.Plates[i].Left, in.Plates[i].Bottom = mm(p.Plates[i].Origin.X), mm(p.Plates[i].Origin.Y)
		if i == gone {
			continue
		}
		g, err := geom.Difference(left, polygon(t, p.rectangle(&p.Plates[i])))
		left = must(t, g, err)
	}
	in.Plates = append(in.Plates[:gone:gone], in.Plates[gone+1:]...)
	holes := Place(in).Holes()
	if len(holes) != 1 {
		t.Fatalf("%d holes", len(holes))
	}
	h := holes[0]
	closeTo(t, "area of the hole", h.Area/1e6, left.Area()/1e6, 1e-6)
	closeTo(t, "perimeter", h.Perimeter, left.Boundary().Length(), 1e-3)
	if h.AtRim {
		t.Error("the hole lies between plates")
	}
	if len(h.Plates) < 4 {
		t.Errorf("around it: %v", h.Plates)
	}
}
