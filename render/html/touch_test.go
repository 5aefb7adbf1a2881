package html

import (
	"math"
	"slices"
	"testing"

	"github.com/chromedp/cdproto/input"
)

// fingers is a touch with the places of all fingers on the screen.
func fingers(kind input.DispatchTouchEventType, at ...[2]float64) action {
	points := []*input.TouchPoint{}
	for i, p := range at {
		id := float64(i)
		points = append(points, &input.TouchPoint{X: p[0], Y: p[1], ID: &id})
	}
	return command(input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: kind, TouchPoints: points})
}

const (
	down   = input.DispatchTouchEventTypeTouchStart
	moves  = input.DispatchTouchEventTypeTouchMove
	lifted = input.DispatchTouchEventTypeTouchEnd
)

func TestTouch(t *testing.T) {
	phone := views[slices.IndexFunc(views, func(v viewport) bool { return v.phone })]
	_, page := examplePage(t)
	p := open(t, browser(t), page, "", phone.emulate()...)
	if wide := ask[float64](p, "document.documentElement.scrollWidth - innerWidth"); wide > 0 {
		t.Errorf("the page is %v pixels wider than the screen", wide)
	}
	// The plan comes first, and fingers find what they press.
	if got := ask[float64](p, "el('plan').getBoundingClientRect().bottom - innerHeight"); got > 0 {
		t.Errorf("the plan ends %v pixels below the screen", got)
	}
	for _, small := range ask[[]string](p, `[...document.querySelectorAll('button, select, input, summary, a[href]')].filter(e => e.checkVisibility()).flatMap(e => {
	  const b = (e.closest('label') ?? e).getBoundingClientRect(), least = e.closest('#drawing') && e.tagName !== 'SUMMARY' ? 44 : 24;
	  return b.width < least || b.height < least ? [`+"`${e.outerHTML.slice(0, 80)} ${b.width} ${b.height}`"+`] : [];
	})`) {
		t.Errorf("too small for a finger: %s", small)
	}
	p.do(run("el('plan').scrollIntoView(); zoomAt(view.width / 2, view.height / 2, 3)"))
	i := free(p)
	if i < 0 {
		t.Fatal("no mark stands free")
	}
	x, y := spot(p, i)

	// One finger moves the floor with it, and selects nothing.
	p.do(fingers(down, [2]float64{x, y}), fingers(moves, [2]float64{x + 20, y + 10}), fingers(moves, [2]float64{x + 50, y + 30}), fingers(lifted))
	if x2, y2 := spot(p, i); math.Hypot(x2-x-50, y2-y-30) > 1.5 {
		t.Errorf("after a finger went by 50, 30 the place stands %v %v away", x2-x, y2-y)
	}
	if n := ask[int](p, "selection.size"); n != 0 {
		t.Errorf("moving selected %d", n)
	}

	// A tap beside the mark, as fingers do, selects it.
	x, y = spot(p, i)
	p.do(fingers(down, [2]float64{x + 7, y - 6}), fingers(lifted))
	wait(p, "selection.size > 0")
	if got := ask[[]int](p, "[...selection]"); !slices.Equal(got, []int{i}) {
		t.Errorf("a tap selects %v, want %d", got, i)
	}

	// Two fingers going apart zoom about what lies between them.
	k := ask[float64](p, "view.k")
	c := ask[[]float64](p, "(() => { const b = el('plan').getBoundingClientRect(); return [Math.round(b.left + b.width / 2), Math.round(b.top + b.height / 2)]; })()")
	middle := func() []float64 { return ask[[]float64](p, "[planX(view.width / 2), planY(view.height / 2)]") }
	before := middle()
	pair := func(d float64) [][2]float64 { return [][2]float64{{c[0] - d, c[1]}, {c[0] + d, c[1]}} }
	p.do(fingers(down, pair(30)[0]), fingers(down, pair(30)...))
	for _, d := range []float64{38, 46, 60, 76, 90} {
		p.do(fingers(moves, pair(d)...))
	}
	p.do(fingers(lifted))
	wait(p, "pending === 0")
	if got := ask[float64](p, "view.k"); got < 1.8*k {
		t.Errorf("fingers from 60 to 180 pixels apart zoom by %v", got/k)
	}
	if after := middle(); math.Hypot(after[0]-before[0], after[1]-before[1]) > 25/k {
		t.Errorf("the middle moved from %v to %v", before, after)
	}
	if got := ask[[]int](p, "[...selection]"); !slices.Equal(got, []int{i}) {
		t.Errorf("pinching changed the selection to %v", got)
	}
	p.quiet()
}
