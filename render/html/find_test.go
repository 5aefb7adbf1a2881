package html

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"platebook/rules/inspection"
)

// A person calls things by what stands on the paper in hand: a number alone, a
// photo, a fixture. What several things are called is listed.
func TestFind(t *testing.T) {
	var twice, file string
	a := example(t, func(in *inspection.Inspection) {
		first, other := &in.Indications[0], &in.Indications[len(in.Indications)/2]
		first.ID.Value, first.ID.Text, twice = other.ID.Value, other.ID.Text, other.ID.Value
		file = in.Photos[1].File.Value
	})
	p := open(t, browser(t), write(t, a, Options{}), "")
	seek := func(name string) string {
		p.do(run(fmt.Sprintf("el('find').value = %q; el('seek').requestSubmit()", name)))
		return text(p, "#card")
	}
	for name, want := range map[string]string{
		"107": "10-2 · Indication 107", "photo 2": "Photo 2", file: "Photo 2", strings.TrimSuffix(file, filepath.Ext(file)): "Photo 2",
		"photos": "Photo 1: ", "c1": "C1", "r1": "Repair R1", "zzz": "No plate, indication, repair, photo or fixture is called zzz.",
		twice: "2 places have the number " + twice,
	} {
		if got := seek(name); !strings.Contains(got, want) {
			t.Errorf("%s: the card says %q, not %q", name, got, want)
		}
	}
	if n := ask[int](p, "(goToOther('photos'), document.querySelectorAll('#card li').length)"); n != len(a.Inspection.Photos) {
		t.Errorf("%d photos are listed of %d", n, len(a.Inspection.Photos))
	}
	p.do(chromedp.Click(chromedp.CSS("#card li:nth-child(3) button")))
	if got := text(p, "#card h3"); got != "Photo 3" || !ask[bool](p, "layers.photos.on") {
		t.Errorf("the list leads to %q", got)
	}
	if got := seek("107"); !strings.Contains(got, "patch") {
		t.Errorf("the card of a place does not say what will be done: %q", got)
	}
	p.quiet()
}

// All that can be selected has a card, and what a card leads to has one too.
func TestEveryCard(t *testing.T) {
	a, page := comparedPage(t)
	p := open(t, browser(t), page, "")
	counts := ask[map[string]int](p, `(() => {
	  const seen = {}, open = (kind, n) => { seen[kind] = n; for (let i = 0; i < n; i++) { chooseOther({ kind, i }); if (!el('card').querySelector('h3')) throw new Error(kind + ' ' + i); } };
	  open('plate', D.plates.length); open('repair', D.repairs.length); open('note', D.notes.length); open('photo', D.photos.length);
	  open('fixture', D.fixtures.length); open('patch', D.patches.length); open('then', then.n);
	  for (const kind of ['unexamined', 'todo', 'changes', 'photos']) open(kind, 1);
	  for (let i = 0; i < N; i++) if (!placeCard(i).length) throw new Error('place ' + i);
	  return seen;
	})()`)
	for _, kind := range []string{"plate", "repair", "note", "photo", "fixture", "patch", "then"} {
		if counts[kind] == 0 {
			t.Errorf("the example has no %s to look at", kind)
		}
	}
	p.do(run("chooseOther({ kind: 'repair', i: 0 })"))
	if got := text(p, "#card"); !strings.Contains(got, a.Repairs.Items[0].Reasons[0]) {
		t.Errorf("the card of a repair does not say why: %q", got)
	}
	p.quiet()
}

// What is printed says what the filters leave out, shows the plan as the screen
// does, and leaves the screen as it was.
func TestPrintSaysWhatIsLeftOut(t *testing.T) {
	if _, err := exec.LookPath("pdftotext"); err != nil {
		t.Skip("no pdftotext is installed (.ci/packages installs it)")
	}
	_, page := examplePage(t)
	p := open(t, browser(t), page, "")
	p.do(run(`el('of-plate').value = D.plates.findIndex(p => p.label === '7-3'); el('of-plate').dispatchEvent(new Event('change'));
	  el('loss-from').value = '>20'; el('loss-from').dispatchEvent(new Event('input')); showOnly(facets[1], ['product']); refilter()`))
	shown := text(p, "#shown-short")
	before := ask[string](p, "JSON.stringify([view.k, view.x, view.y, view.width])")
	if !ask[bool](p, "view.k > 2 * wholeScale()") {
		t.Error("the plan does not go to the plate that was chosen")
	}
	pdf, err := chromedp.Run(p.ctx, chromedp.PrintToPDF())
	if err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(t.TempDir(), "print.pdf")
	if err := os.WriteFile(name, pdf, 0o666); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("pdftotext", "-layout", name, "-").Output()
	if want := shown + "; Loss, %: from >20; Plate 7-3; Side: product"; err != nil || !strings.Contains(string(out), want) {
		t.Errorf("%q is not printed: %v\n%s", want, err, out)
	}
	if after := ask[string](p, "JSON.stringify([view.k, view.x, view.y, view.width])"); after != before {
		t.Errorf("the view was %s and is %s", before, after)
	}
	p.quiet()
}
