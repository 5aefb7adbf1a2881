package html

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/performance"
	"github.com/chromedp/cdproto/tracing"
	"github.com/chromedp/chromedp"
)

// BenchmarkFrames is what a large floor costs in a browser: processor time of
// the page's main thread until the page can be used, and of the script of each
// frame while zooming and moving, from the browser's own counters and trace, so
// that other work on the machine does not count; and, which does count it, the
// time from the page being asked for to the first text, to the plan, and until
// the page can be used, and the longest task until then.
func BenchmarkFrames(b *testing.B) {
	ctx := browser(b)
	for _, n := range []int{5000, 50000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			page := write(b, large(b, n), Options{})
			var first, text, plan, wall, task, script []float64
			for range b.N {
				p := open(b, ctx, page, "", command(performance.Enable, performance.EnableParams{TimeDomain: performance.EnableTimeDomainThreadTicks}))
				first = append(first, metric(p, "TaskDuration")*1000)
				text = append(text, ask[float64](p, "performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? planned"))
				plan = append(plan, ask[float64](p, "planned"))
				wall = append(wall, ask[float64](p, "ready"))
				task = append(task, ask[float64](p, longestTask))
				script = append(script, frames(p, gesture)...)
				p.quiet()
			}
			at := func(list []float64, share float64) float64 {
				slices.Sort(list)
				return list[min(len(list)-1, int(share*float64(len(list))))]
			}
			if len(script) == 0 {
				b.Fatal("no frame was traced")
			}
			b.ReportMetric(float64(len(page))/1e6, "MB")
			b.ReportMetric(at(first, 0.5), "ms-first")
			b.ReportMetric(at(text, 0.5), "ms-text-wall")
			b.ReportMetric(at(plan, 0.5), "ms-plan-wall")
			b.ReportMetric(at(wall, 0.5), "ms-first-wall")
			b.ReportMetric(at(task, 0.5), "ms-task-wall")
			b.ReportMetric(at(script, 0.5), "ms-frame-p50")
			b.ReportMetric(at(script, 0.95), "ms-frame-p95")
			b.ReportMetric(at(script, 1), "ms-frame-max")
			b.ReportMetric(float64(len(script)), "frames")
		})
	}
}

// longestTask is of those that kept the page from answering so far, ms.
const longestTask = `new Promise(done => {
  new PerformanceObserver(list => done(Math.max(...list.getEntries().map(e => e.duration)))).observe({ type: 'longtask', buffered: true });
  setTimeout(() => done(0), 500);
})`

// metric is one of the browser's counters.
func metric(p *tab, name string) (value float64) {
	p.tb.Helper()
	p.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		r, err := cdp.Call(ctx, t, performance.GetMetrics, cdp.Empty{})
		if err != nil {
			return err
		}
		for _, m := range r.Metrics {
			if m.Name == name {
				value = m.Value
			}
		}
		return nil
	}))
	return value
}

// frames traces a gesture and adds up the script of each frame, ms: the
// callbacks that follow each other without a pause.
func frames(p *tab, gesture string) []float64 {
	p.tb.Helper()
	type event struct {
		Name          string
		TS, Dur, Tdur float64
	}
	var mu sync.Mutex
	var events []event
	done := make(chan struct{})
	if err := chromedp.Listen(p.ctx, func(ev any) {
		switch ev := ev.(type) {
		case *tracing.EventDataCollected:
			mu.Lock()
			defer mu.Unlock()
			for _, v := range ev.Value {
				var e event
				if json.Unmarshal(v, &e) == nil && (e.Name == "FireAnimationFrame" || e.Name == "EventDispatch") {
					events = append(events, e)
				}
			}
		case *tracing.EventTracingComplete:
			close(done)
		}
	}); err != nil {
		p.tb.Fatal(err)
	}
	p.do(command(tracing.Start, tracing.StartParams{TraceConfig: &tracing.TraceConfig{IncludedCategories: []string{"devtools.timeline"}}}))
	ask[chromedp.Void](p, gesture)
	p.do(command(tracing.End, cdp.Empty{}))
	<-done
	mu.Lock()
	defer mu.Unlock()
	slices.SortFunc(events, func(a, b event) int { return int(a.TS - b.TS) })
	var out []float64
	end := 0.0
	for _, e := range events {
		if len(out) == 0 || e.TS-end > 1000 { // microseconds
			out = append(out, 0)
		}
		out[len(out)-1] += e.Tdur / 1000
		end = max(end, e.TS+e.Dur)
	}
	return out
}

// gesture zooms in and out about a corner, then drags to and fro, one step a
// frame, through the same events as a hand.
const gesture = `new Promise(done => {
  const plan = el('plan'), b = plan.getBoundingClientRect();
  const send = (type, x, y) => plan.dispatchEvent(new PointerEvent(type, { pointerId: 1, clientX: b.left + x, clientY: b.top + y, bubbles: true, pointerType: 'mouse' }));
  plan.setPointerCapture = () => {};
  let n = 0;
  const move = () => {
    if (n < 60) plan.dispatchEvent(new WheelEvent('wheel', { deltaY: n < 30 ? -60 : 60, clientX: b.left + 300, clientY: b.top + 200, cancelable: true }));
    else if (n === 60) send('pointerdown', 300, 200);
    else if (n < 119) send('pointermove', 300 + 12 * Math.abs((n - 60) % 40 - 20), 200 + n % 30);
    else { send('pointerup', 300, 200); setTimeout(done, 400); return; }
    n++;
    requestAnimationFrame(move);
  };
  requestAnimationFrame(move);
})`
