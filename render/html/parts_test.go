package html

import (
	"strings"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// A great many places are painted a part a frame. What is to be seen at the end
// is what painting all at once shows, and until then the page answers.
func TestPaintedInParts(t *testing.T) {
	_, whole := comparedPage(t)
	page := rescripted(t, whole, func(s string) string {
		s = strings.Replace(s, "const partOf = 3000", "const partOf = 20", 1)
		return strings.Replace(s, "N + then.n > 10000", "true", 1)
	})
	p := open(t, browser(t), page, "")
	same := func(what string) {
		t.Helper()
		wait(p, "parts === null && pending === 0 && last.k === view.k && last.x === view.x")
		p.do(run(`{
		  const copy = new OffscreenCanvas(canvas.width, canvas.height).getContext('2d', { willReadFrequently: true });
		  window.pixels = () => { copySheet(canvas, copy); return new Uint32Array(copy.getImageData(0, 0, canvas.width, canvas.height).data.buffer); };
		}
		window.partly = pixels(); paint(); window.atOnce = pixels();`))
		if n := ask[int](p, "(() => { let n = 0; for (let i = 0; i < atOnce.length; i++) if (partly[i] !== atOnce[i]) n++; return n; })()"); n != 0 {
			t.Errorf("%s: %d pixels of the picture differ", what, n)
		}
		if n := ask[int](p, "new Set(atOnce).size"); n < 30 {
			t.Errorf("%s: %d colours are painted", what, n)
		}
	}
	same("whole floor")
	if n := ask[int](p, "(() => { let n = 1; for (const g = painting(); !g.next().done;) n++; return n; })()"); n < 10 {
		t.Errorf("all is painted in %d parts", n)
	}
	p.do(run("for (const l of Object.keys(layers)) showLayer(l, true)"))
	same("all layers")
	p.do(run("choosePlace(0); zoomToPlace(0)"))
	same("a place")
	p.do(run("showDates('beside')"))
	same("side by side")
	p.do(run("dispatchEvent(new Event('resize')); el('plan').style.height = '500px'"))
	wait(p, "view.full[1] < 501")
	same("another size")
	p.do(run("showDates('now'); fit()"))
	same("one date")

	// While it is painted, the floor follows a wheel, and the cross the keys.
	at := ask[[]float64](p, "(() => { const b = el('plan').getBoundingClientRect(); return [b.left + 300, b.top + 200]; })()")
	p.do(run("repaint()"), command(input.DispatchMouseEvent, input.DispatchMouseEventParams{Type: input.DispatchMouseEventTypeMouseWheel, X: at[0], Y: at[1], DeltaX: 1e-6, DeltaY: -300}))
	wait(p, "view.k > 1.5 * wholeScale()")
	same("zoomed")
	p.do(chromedp.Focus(chromedp.CSS("#plan")), chromedp.KeyEvent(kb.ArrowRight), chromedp.KeyEvent(kb.ArrowDown))
	same("pointed at")
	p.quiet()
}
