package html

import (
	"strings"
	"testing"

	protocol "github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/cdp"
)

// A browser whose graphics stop gives canvases back empty. The plan and the
// signs come back by themselves, as they were: an empty plan would look like a
// floor without indications.
func TestGraphicsStop(t *testing.T) {
	ctx := ownBrowser(t) // other tests would see theirs stop too
	_, whole := comparedPage(t)
	parts := rescripted(t, whole, func(s string) string {
		s = strings.Replace(s, "const partOf = 3000", "const partOf = 20", 1)
		return strings.Replace(s, "N + then.n > 10000", "true", 1)
	})
	var tabs []*tab
	for _, page := range []string{whole, parts} {
		p := open(t, ctx, page, "")
		p.do(run(`{
		  const seen = c => {
		    const copy = new OffscreenCanvas(c.width, c.height).getContext('2d', { willReadFrequently: true });
		    copy.drawImage(c, 0, 0);
		    return [...new Uint32Array(copy.getImageData(0, 0, c.width, c.height).data.buffer)].join();
		  };
		  window.canvases = () => [canvas, ...el('signs').querySelectorAll('canvas')];
		  window.looks = () => canvases().map(seen);
		}
		for (const l of Object.keys(layers)) showLayer(l, true)`))
		wait(p, "parts === null && pending === 0")
		p.do(run("window.lost = 0; for (const c of canvases()) c.addEventListener('contextlost', () => lost++); window.before = looks()"))
		if n := ask[int](p, "before.filter(s => new Set(s.split(',')).size > 1).length"); n < 5 || n < ask[int](p, "before.length") {
			t.Fatalf("only %d canvases show something", n)
		}
		tabs = append(tabs, p)
	}
	tabs[0].do(command(protocol.CrashGPUProcess, cdp.Empty{}))
	for _, p := range tabs {
		wait(p, "lost === canvases().length")
		wait(p, "looks().every((s, i) => s === before[i])")
		p.quiet()
	}
}
