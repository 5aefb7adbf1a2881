package html

import (
	"cmp"
	"context"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"platebook/render/draw"
	"platebook/rules/assess"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// shared is the browser of all tests, started by the first that needs it.
var shared struct {
	sync.Once
	ctx  context.Context
	err  error
	stop []func()
}

func TestMain(m *testing.M) {
	code := m.Run()
	for _, stop := range slices.Backward(shared.stop) {
		stop()
	}
	os.Exit(code)
}

// browser is the one that all tests share, or skips them.
func browser(tb testing.TB) context.Context {
	tb.Helper()
	path := browserPath(tb)
	shared.Do(func() {
		dir, err := os.MkdirTemp("", "platebook-browser-")
		if err != nil {
			shared.err = err
			return
		}
		shared.stop = append(shared.stop, func() { _ = os.RemoveAll(dir) })
		shared.ctx, shared.err = startBrowser(path, dir, func(stop func()) { shared.stop = append(shared.stop, stop) })
	})
	if shared.err != nil {
		tb.Fatalf("the browser does not start: %v", shared.err)
	}
	return shared.ctx
}

// ownBrowser is one for a test alone.
func ownBrowser(tb testing.TB) context.Context {
	tb.Helper()
	ctx, err := startBrowser(browserPath(tb), tb.TempDir(), tb.Cleanup)
	if err != nil {
		tb.Fatalf("the browser does not start: %v", err)
	}
	return ctx
}

// browserPath is the Chromium of servers, which is the same but for its own
// windows and takes half the time; what is measured is measured with the one
// that people have.
func browserPath(tb testing.TB) string {
	tb.Helper()
	names := []string{"chromium-headless-shell", "chromium", "chromium-browser", "google-chrome"}
	if _, measured := tb.(*testing.B); measured {
		names = append(names[1:], names[0])
	}
	for _, name := range names {
		if p, err := exec.LookPath(name); err == nil {
			return p
		}
	}
	tb.Skip("no Chromium is installed: the page is not tried in a browser (.ci/packages installs one)")
	return ""
}

func startBrowser(path, dir string, later func(func())) (context.Context, error) {
	opts := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU, chromedp.NoFirstRun,
		chromedp.UserDataDir(dir), chromedp.WindowSize(1440, 900),
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true),
		chromedp.WSURLReadTimeout(patience),
	)
	ctx, stop := chromedp.NewExecAllocator(context.Background(), opts...)
	later(stop)
	ctx, cancel := chromedp.NewContext(ctx)
	later(cancel)
	return ctx, chromedp.Do(ctx)
}

// patience is how long a test waits for what must come: machines are busy.
const patience = 5 * time.Minute

// action is one that gives nothing back.
type action = chromedp.Action[chromedp.Void]

// command is a command of the browser's protocol as an action.
func command[P, R any](c cdp.Command[P, R], params P) action {
	return chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, c, params)
		return err
	})
}

// run runs a script. What its last line gives is not sent back: a picture's
// worth of numbers takes seconds.
func run(script string) action { return chromedp.Evaluate[chromedp.Void](script + "\n;undefined") }

// tab is a page open in a browser, and what it complained of.
type tab struct {
	tb       testing.TB
	ctx      context.Context
	url      string
	mu       sync.Mutex
	troubles []string
	requests []string
}

// open writes a page and opens it, at an address within it, until it can be
// used.
func open(tb testing.TB, ctx context.Context, page, at string, before ...action) *tab {
	tb.Helper()
	p := load(tb, ctx, page, at, before...)
	p.started()
	return p
}

// again loads the page anew in the same tab.
func (p *tab) again(before ...action) {
	p.tb.Helper()
	p.do(before...)
	p.do(chromedp.Navigate(p.url))
	p.started()
}

// started waits until the page can be used.
func (p *tab) started() {
	p.tb.Helper()
	if !ask[bool](p, "typeof ready === 'number'") {
		p.tb.Fatal("the page's script does not run")
	}
	ask[chromedp.Void](p, "new Promise(done => { const t = setInterval(() => { if (ready || failed) { clearInterval(t); done(); } }, 5); })")
	if ask[bool](p, "failed") {
		p.tb.Fatalf("the page gave up: %s", text(p, ".plainly:not(#cut)"))
	}
}

// load opens it until it is loaded.
func load(tb testing.TB, ctx context.Context, text, at string, before ...action) *tab {
	tb.Helper()
	name := filepath.Join(tb.TempDir(), "tank.floor.html")
	if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
		tb.Fatal(err)
	}
	ctx, cancel := chromedp.NewContext(ctx)
	tb.Cleanup(cancel)
	p := &tab{tb: tb, url: "file://" + filepath.ToSlash(name)}
	if err := chromedp.Listen(ctx, func(ev any) {
		p.mu.Lock()
		defer p.mu.Unlock()
		switch ev := ev.(type) {
		case *runtime.EventExceptionThrown:
			p.troubles = append(p.troubles, fmt.Sprintf("%s %s, line %d", ev.ExceptionDetails.Text, cmp.Or(ev.ExceptionDetails.Exception, &runtime.RemoteObject{}).Description, ev.ExceptionDetails.LineNumber))
		case *runtime.EventConsoleAPICalled:
			p.troubles = append(p.troubles, fmt.Sprint("console: ", ev.Type))
		case *log.EventEntryAdded:
			p.troubles = append(p.troubles, ev.Entry.Text)
		case *network.EventRequestWillBeSent:
			p.requests = append(p.requests, ev.Request.URL)
		}
	}); err != nil {
		tb.Fatal(err)
	}
	p.ctx, cancel = context.WithTimeout(ctx, patience)
	tb.Cleanup(cancel)
	p.do(command(network.Enable, network.EnableParams{}), command(log.Enable, cdp.Empty{}))
	p.do(before...)
	p.do(chromedp.Navigate(p.url + at))
	return p
}

func (p *tab) do(actions ...action) {
	p.tb.Helper()
	if err := chromedp.Do(p.ctx, actions...); err != nil {
		p.tb.Fatal(err)
	}
}

// ask evaluates an expression in the page.
func ask[T any](p *tab, expression string) T {
	p.tb.Helper()
	v, err := chromedp.Run(p.ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		p.tb.Fatalf("%s: %v", expression, err)
	}
	return v
}

// quiet fails when the page complained, or asked for anything but itself.
func (p *tab) quiet() {
	p.tb.Helper()
	p.mu.Lock()
	defer p.mu.Unlock()
	for _, t := range p.troubles {
		p.tb.Errorf("the page complains: %s", t)
	}
	for _, r := range p.requests {
		if !strings.HasPrefix(r, p.url) && !strings.HasPrefix(r, "data:") {
			p.tb.Errorf("the page asks for %s", r)
		}
	}
}

func text(p *tab, selector string) string {
	return ask[string](p, fmt.Sprintf("document.querySelector(%q).innerText", selector))
}

// spot is where a place stands on the window.
func spot(p *tab, i int) (x, y float64) {
	at := ask[[]float64](p, fmt.Sprintf("(() => { const b = el('plan').getBoundingClientRect(); return [b.left + 1 + sx(px[%d]), b.top + 1 + sy(py[%d])]; })()", i, i))
	return at[0], at[1]
}

// free is the first place whose mark no other touches, so that a click on it
// can mean nothing else.
func free(p *tab) int {
	return ask[int](p, `(() => {
	  for (let i = 0; i < N; i++) {
	    const x = sx(px[i]), y = sy(py[i]);
	    if (!(x > 30 && y > 30 && x < view.width - 30 && y < view.height - 30) || faint[i]) continue;
	    let alone = true;
	    for (let j = 0; j < N; j++) if (j !== i && Math.hypot(sx(px[j]) - x, sy(py[j]) - y) < 20) alone = false;
	    if (alone) return i;
	  }
	  return -1;
	})()`)
}

func js(v any) string {
	b, _ := json.Marshal(v)
	return string(b)
}

func TestPageInABrowser(t *testing.T) {
	ctx := browser(t)
	a, whole := examplePage(t)
	places := placesOf(a)

	asked := open(t, ctx, whole, "") // for the tests that change nothing
	t.Run("values print as in the report", func(t *testing.T) {
		p := asked
		kinds := map[string]unit.Kind{"thickness": unit.Thickness, "share": unit.Share, "position": unit.Position, "height": unit.Height, "bearing": unit.Bearing}
		for name, k := range kinds {
			for _, v := range []float64{0, -0.004, 0.005, 2.675, 3.405, 6.35, -1.005, 99.95, 12345.5, 0.0000004, 359.96} {
				if got, want := ask[string](p, fmt.Sprintf("full(%v, %q)", v, name)), strings.ReplaceAll(k.TextUnit(unit.SI, v, 0), " ", "\u00a0"); got != want {
					t.Errorf("%v %s prints %q, want %q", v, name, got, want)
				}
			}
		}
		p.quiet()
	})

	t.Run("positions are the geometry's", func(t *testing.T) {
		p := asked
		tried := 0
		for i := range a.Plan.Plates {
			pl := &a.Plan.Plates[i]
			if !pl.Placed || pl.Sump || len(pl.Net) == 0 {
				continue
			}
			at := pl.Label
			wantX, wantY, ok := a.Plan.FromPlan(i, at)
			if !ok || a.Plan.PlateAt(at) != i {
				continue
			}
			tried++
			if got := ask[int](p, fmt.Sprintf("plateAt(%v, %v)", at.X, -at.Y)); got != i {
				t.Errorf("plate at %v is %d, want %d", at, got, i)
			}
			got := ask[[]float64](p, fmt.Sprintf("fromDatum(%d, %v, %v)", i, at.X, at.Y))
			if math.Abs(got[0]-wantX) > 0.01 || math.Abs(got[1]-wantY) > 0.01 {
				t.Errorf("plate %d: position %v, want %v %v", i, got, wantX, wantY)
			}
			if b := ask[float64](p, fmt.Sprintf("bearingAt(%v, %v)", at.X, at.Y)); math.Abs(b-a.Plan.Bearing(at)) > 1e-6 {
				t.Errorf("bearing %v, want %v", b, a.Plan.Bearing(at))
			}
		}
		if tried < 20 {
			t.Errorf("only %d plates asked for", tried)
		}
	})

	t.Run("filters count as the workbook does", func(t *testing.T) {
		p := open(t, ctx, whole, "")
		want := func(keep func(l *assess.Location) bool) (n int) {
			for _, i := range places {
				if l := &a.Result.Locations[i]; l.Kind == assess.IndicationAt && keep(l) {
					n++
				}
			}
			return n
		}
		loss := func(l *assess.Location, from, to float64) bool {
			v, ok := draw.LossOf(l)
			return ok && v >= from && v <= to
		}
		all := want(func(*assess.Location) bool { return true })
		expect := func(n int) {
			t.Helper()
			if got := text(p, "#shown"); !strings.HasPrefix(got, fmt.Sprintf("%d of %d indications", n, all)) {
				t.Errorf("shown: %q, want %d of %d", got, n, all)
			}
			if rows := ask[string](p, "el('table').getAttribute('aria-rowcount')"); rows != fmt.Sprint(n+1+ask[int](p, "P.alone.filter(i => shown[i]).length")) {
				t.Errorf("%s rows for %d indications", rows, n)
			}
		}
		expect(all)
		p.do(chromedp.SendKeys(chromedp.CSS("#loss-from"), "25"), chromedp.SendKeys(chromedp.CSS("#loss-to"), "40"))
		n := want(func(l *assess.Location) bool { return loss(l, 25, 40) })
		if n == 0 || n == all {
			t.Fatalf("%d of %d: the filter proves nothing", n, all)
		}
		expect(n)
		p.do(chromedp.Click(chromedp.CSS("#facet-side input[data-word=product]")))
		expect(want(func(l *assess.Location) bool { return loss(l, 25, 40) && l.Side != assess.Product }))
		// The count beside the choice is what it would bring back.
		if got, back := text(p, "#facet-side .option:has([data-word=product]) .n"), want(func(l *assess.Location) bool { return loss(l, 25, 40) && l.Side == assess.Product }); got != fmt.Sprint(back) {
			t.Errorf("beside product stands %s, want %d", got, back)
		}
		p.do(chromedp.Click(chromedp.CSS("#reset")))
		expect(all)
		p.do(chromedp.Click(chromedp.CSS("#facet-zone input[data-word=general]")))
		expect(want(func(l *assess.Location) bool { return l.Zone != floor.General }))
		p.do(chromedp.Click(chromedp.CSS("#reset")), chromedp.SendKeys(chromedp.CSS("#remaining-to"), "4.5"))
		expect(want(func(l *assess.Location) bool { return l.Remaining.Known && l.Remaining.V <= 4.5 }))
		p.do(chromedp.Click(chromedp.CSS("#reset")))
		plate := a.Result.Locations[places[0]].Plate
		p.do(chromedp.SetValue(chromedp.CSS("#of-plate"), fmt.Sprint(plate)), run("el('of-plate').dispatchEvent(new Event('change'))"))
		expect(want(func(l *assess.Location) bool { return l.Plate == plate }))
		if got := text(p, "#numbers p"); !strings.Contains(got, fmt.Sprint(ask[int](p, "shownCount"))) {
			t.Errorf("statistics %q do not follow", got)
		}
		p.quiet()
	})

	t.Run("selection goes both ways", func(t *testing.T) {
		p := open(t, ctx, whole, "")
		i := free(p)
		if i < 0 {
			t.Fatal("no mark stands free")
		}
		l := &a.Result.Locations[places[i]]
		x, y := spot(p, i)
		p.do(chromedp.MouseClickXY(x, y))
		card := text(p, "#card")
		for _, want := range []string{
			recordOf(a, l).name, recordOf(a, l).plate, string(l.Verdict), string(l.Basis),
			strings.ReplaceAll(unit.Thickness.TextUnit(unit.SI, float64(l.Remaining.V), 0), " ", "\u00a0"),
			strings.ReplaceAll(unit.Thickness.TextUnit(unit.SI, float64(l.Margin.V), 0), " ", "\u00a0"),
		} {
			if !strings.Contains(card, want) {
				t.Errorf("the card lacks %q: %q", want, card)
			}
		}
		if got := ask[string](p, "document.querySelector('#table tr[aria-selected=true]')?.dataset.i ?? ''"); got != fmt.Sprint(i) {
			t.Errorf("row %q is selected in the table, want %d", got, i)
		}
		p.do(run("choosePlate(-1); scroller.scrollTop = 0; fillTable()"))
		row := ask[[]float64](p, "(() => { const b = el('row-' + order[3]).getBoundingClientRect(); return [b.left + 20, b.top + 8, order[3]]; })()")
		p.do(chromedp.MouseClickXY(row[0], row[1]))
		got := int(row[2])
		if all := ask[[]int](p, "[...selection]"); !slices.Equal(all, []int{got}) {
			t.Errorf("selected %v after a click in the row of %d", all, got)
		}
		if hash := ask[string](p, "decodeURIComponent(location.hash)"); hash != "#place="+ask[string](p, fmt.Sprintf("keyOf(%d)", got)) {
			t.Errorf("the address is %q", hash)
		}
		// An area drawn with Shift selects what stands in it.
		p.do(run("fit()"))
		b := ask[[]float64](p, "(() => { const b = el('plan').getBoundingClientRect(); return [b.left, b.top, b.right, b.bottom]; })()")
		p.do(mouse(input.DispatchMouseEventTypeMousePressed, b[0]+5, b[1]+5, shift))
		p.do(mouse(input.DispatchMouseEventTypeMouseMoved, b[2]-5, b[3]-5, shift))
		p.do(mouse(input.DispatchMouseEventTypeMouseReleased, b[2]-5, b[3]-5, shift))
		placed := ask[int](p, "Array.from(px).filter(x => !Number.isNaN(x)).length")
		if n := ask[int](p, "selection.size"); n != placed {
			t.Errorf("%d selected in the whole area, want %d", n, placed)
		}
		if got := text(p, "#numbers p"); !strings.Contains(got, fmt.Sprintf("%d places selected", placed)) {
			t.Errorf("statistics: %q", got)
		}
		p.quiet()
	})

	t.Run("wheel and drag", func(t *testing.T) {
		p := open(t, ctx, whole, "")
		i := free(p)
		x, y := spot(p, i)
		x, y = math.Floor(x), math.Floor(y) // a wheel turns at whole pixels
		under := func() []float64 {
			return ask[[]float64](p, fmt.Sprintf("(() => { const b = el('plan').getBoundingClientRect(); return [planX(%v - b.left - 1), planY(%v - b.top - 1)]; })()", x, y))
		}
		before := under()
		k := ask[float64](p, "view.k")
		p.do(command(input.DispatchMouseEvent, input.DispatchMouseEventParams{Type: input.DispatchMouseEventTypeMouseWheel, X: x, Y: y, DeltaX: 1e-6, DeltaY: -600}))
		wait(p, fmt.Sprintf("view.k > %v", k*2))
		if after := under(); math.Hypot(after[0]-before[0], after[1]-before[1]) > 1 {
			t.Errorf("the place under the wheel moved from %v to %v", before, after)
		}
		x, y = spot(p, i)
		p.do(mouse(input.DispatchMouseEventTypeMousePressed, x, y, 0),
			mouse(input.DispatchMouseEventTypeMouseMoved, x+40, y+30, 0),
			mouse(input.DispatchMouseEventTypeMouseReleased, x+40, y+30, 0))
		if x2, y2 := spot(p, i); math.Hypot(x2-x-40, y2-y-30) > 1 {
			t.Errorf("after dragging by 40, 30 the place stands %v %v away", x2-x, y2-y)
		}
		if n := ask[int](p, "selection.size"); n != 0 {
			t.Errorf("dragging selected %d", n)
		}
		p.do(chromedp.Click(chromedp.CSS("#fit")))
		if got := ask[float64](p, "view.k"); math.Abs(got-k) > 1e-9 {
			t.Errorf("whole floor: scale %v, was %v", got, k)
		}
		p.quiet()
	})

	t.Run("keys", func(t *testing.T) {
		p := open(t, ctx, whole, "")
		p.do(chromedp.Focus(chromedp.CSS("#plan")), chromedp.KeyEvent(kb.ArrowRight)) // arrow right
		wait(p, "el('live').textContent.includes('plate ')")
		k := ask[float64](p, "view.k")
		p.do(chromedp.KeyEvent("+"))
		if got := ask[float64](p, "view.k"); math.Abs(got/k-1.5) > 1e-9 {
			t.Errorf("plus zooms by %v", got/k)
		}
		p.do(chromedp.KeyEvent("0"), chromedp.KeyEvent("n"))
		worst := ask[int](p, "byMargin()[0]")
		if got := ask[[]int](p, "[...selection]"); !slices.Equal(got, []int{worst}) {
			t.Errorf("the first place is %v, want %d", got, worst)
		}
		wait(p, fmt.Sprintf("el('live').textContent.includes(%s)", fmt.Sprintf("nameOf(%d)", worst)))
		p.do(chromedp.KeyEvent(kb.Escape))
		if n := ask[int](p, "selection.size"); n != 0 {
			t.Errorf("%d selected after Escape", n)
		}
		p.do(chromedp.Focus(chromedp.CSS("#table")), chromedp.KeyEvent(kb.ArrowDown), chromedp.KeyEvent(kb.ArrowDown), chromedp.KeyEvent(kb.Enter)) // from the worst, which was selected
		if got := ask[[]int](p, "[...selection]"); !slices.Equal(got, []int{ask[int](p, "order[2]")}) {
			t.Errorf("two rows down and Enter select %v", got)
		}
		p.quiet()
	})

	t.Run("link to a plate", func(t *testing.T) {
		label := a.Inspection.Plates[a.Result.Locations[places[0]].Plate].Label.Text
		p := open(t, ctx, whole, "#plate="+label)
		if got := text(p, "#card h3"); got != "Plate "+label {
			t.Errorf("selected: %q, want plate %s", got, label)
		}
		q := open(t, ctx, whole, "#plate=none-such%3Cb%3E")
		if got := text(q, "#card"); !strings.Contains(got, "none-such<b>") {
			t.Errorf("an unknown plate: %q", got)
		}
		p.quiet()
		q.quiet()
	})

	t.Run("sorting", func(t *testing.T) {
		p := asked
		p.do(chromedp.Click(chromedp.CSS("#table thead th:nth-child(3) button")), chromedp.Click(chromedp.CSS("#table thead th:nth-child(3) button")))
		if got := ask[string](p, "document.querySelector('#table thead th:nth-child(3)').getAttribute('aria-sort')"); got != "descending" {
			t.Errorf("aria-sort %q", got)
		}
		if !ask[bool](p, "order.every((i, n) => n === 0 || P.loss[i] === null || P.loss[order[n - 1]] >= P.loss[i])") {
			t.Error("not sorted by loss, greatest first")
		}
	})

	t.Run("print", func(t *testing.T) {
		p := open(t, ctx, whole, "")
		pdf, err := chromedp.Run(p.ctx, chromedp.PrintToPDF())
		if err != nil || len(pdf) < 20_000 {
			t.Errorf("%d bytes printed, %v", len(pdf), err)
		}
		if ask[bool](p, "printing") {
			t.Error("the page still wears what it printed in")
		}
		p.quiet()
	})

	t.Run("without script", func(t *testing.T) {
		disabled := func(yes bool) action {
			return command(emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: yes})
		}
		p := load(t, ctx, whole, "", disabled(true))
		p.do(disabled(false))
		rows := ask[int](p, "document.querySelectorAll('main tbody tr').length")
		drawings := ask[int](p, "document.querySelectorAll('main svg path').length")
		if rows != len(places) || drawings < 20 {
			t.Errorf("%d rows and %d paths without script, want %d rows", rows, drawings, len(places))
		}
		p.quiet()
	})

	t.Run("hostile text stays text", func(t *testing.T) {
		h := hostile(t)
		label := ""
		for i := range h.Inspection.Plates {
			if h.Inspection.Plates[i].Label.Value == markup {
				label = markup
			}
		}
		if label == "" {
			t.Fatal("no plate carries the hostile label")
		}
		p := open(t, ctx, write(t, h, Options{}), "#plate="+strings.ReplaceAll(js(label), `"`, "%22"))
		wait(p, "document.querySelectorAll('#table tbody tr[data-i]').length > 0")
		p.do(run("for (const l of Object.values(layers)) l.on = true; showLegend(); for (let i = 0; i < N; i++) if (plateOf(i).includes('<')) choosePlace(i); D.plates.forEach((p, i) => { if (p.label.includes('<')) choosePlate(i); }); D.notes.forEach((_, i) => chooseOther({ kind: 'note', i })); paint()"))
		if ask[bool](p, "'owned' in window") {
			t.Error("text of the workbook ran")
		}
		if n := ask[int](p, "document.querySelectorAll('img, script:not(#data)').length"); n != 2 {
			t.Errorf("%d scripts and pictures, want the two of the page", n)
		}
		if got := text(p, "h1"); !strings.Contains(got, markup) {
			t.Errorf("the heading reads %q", got)
		}
		if wide := ask[float64](p, "document.documentElement.scrollWidth - innerWidth"); wide > 0 {
			t.Errorf("a long word makes the page %v pixels too wide", wide)
		}
		p.quiet()
	})

	t.Run("photos", func(t *testing.T) {
		files := PhotoFiles(a.Inspection)
		thumb, err := Thumbnail(onePicture(t))
		if err != nil {
			t.Fatal(err)
		}
		p := open(t, ctx, write(t, a, Options{Thumbs: []Thumb{{File: files[0], JPEG: thumb}, {File: files[1], Missing: "not there"}}}), "")
		p.do(run("chooseOther({ kind: 'photo', i: 0 })"))
		wait(p, "document.querySelector('#card img')?.naturalWidth > 0")
		p.do(run("chooseOther({ kind: 'photo', i: 1 })"))
		if got := text(p, "#card"); !strings.Contains(got, "not there") {
			t.Errorf("a missing photo: %q", got)
		}
		p.quiet()
	})

	t.Run("photo of two rows", func(t *testing.T) {
		twice := example(t, func(in *inspection.Inspection) { in.Photos = append(in.Photos, in.Photos[0]) })
		thumb, err := Thumbnail(onePicture(t))
		if err != nil {
			t.Fatal(err)
		}
		page := write(t, twice, Options{Thumbs: []Thumb{{File: PhotoFiles(twice.Inspection)[0], JPEG: thumb}}})
		if n := strings.Count(page, base64.StdEncoding.EncodeToString(thumb)); n != 1 {
			t.Errorf("the picture stands %d times in the page", n)
		}
		p := open(t, ctx, page, "")
		p.do(run(fmt.Sprintf("chooseOther({ kind: 'photo', i: %d })", len(twice.Inspection.Photos)-1)))
		wait(p, "document.querySelector('#card img')?.naturalWidth > 0")
		p.quiet()
	})
}

// shift is the modifier key, as the protocol counts it.
const shift = 8

// mouse is an event of the left button.
func mouse(kind input.DispatchMouseEventType, x, y float64, modifiers int64) action {
	return command(input.DispatchMouseEvent, input.DispatchMouseEventParams{Type: kind, X: x, Y: y, Modifiers: modifiers, Button: input.MouseButtonLeft, Buttons: 1, ClickCount: 1})
}

// wait waits until an expression is true.
func wait(p *tab, expression string) {
	p.tb.Helper()
	for end := time.Now().Add(patience / 2); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if ask[bool](p, expression) {
			return
		}
	}
	p.tb.Fatalf("never true: %s", expression)
}
