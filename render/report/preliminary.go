package report

import (
	"fmt"

	"platebook/render/draw"
	"platebook/rules"
	"platebook/rules/spelling"
)

// BuildPreliminary composes the repair list of the same day: plan, repairs by
// plate, cutting list, and what is missing. The cover is a strip.
func BuildPreliminary(a *rules.Assessment, opt Options) *Report {
	w := &writer{a: a, in: a.Inspection, res: a.Result, sys: a.Inspection.Units, opt: opt}
	r := w.frame()
	r.Strip = true
	r.Title = "Preliminary repair list: " + r.Title
	r.Cover.Heading = "Preliminary repair list, tank " + w.in.Tank.Tank.Or("not named")
	r.Cover.Signatures = nil
	r.Cover.Note = w.coverNote("the workbook " + w.in.File.Name) // there is no appendix to name it
	if w.status() != "preliminary" && !r.Running.Loud {
		r.Running.Status, r.Running.Loud = "PRELIMINARY LIST", true
		r.Cover.Status = r.Running.Status
	}
	add := func(name string, blocks []Block) {
		if len(blocks) > 0 {
			r.Sections = append(r.Sections, Section{Number: len(r.Sections) + 1, Name: name, Blocks: blocks})
		}
	}
	if a.Repairs == nil || len(a.Repairs.Items) == 0 {
		add("Repairs by plate", w.repairs())
	} else {
		add("Repair plan", append([]Block{Paragraph{Text: w.repairSentence()}, w.totals()}, w.plans("Repair plan", draw.RepairPlan)...))
		list := w.repairList()
		blocks := append([]Block{list}, w.failures()...)
		pieces := dropHeading(w.cutting())
		if len(list.Rows) > longList {
			blocks, pieces = dense(blocks), dense(pieces)
		}
		add("Repairs by plate", blocks)
		add("Cutting list", pieces)
	}
	add("What is missing", w.missing())
	return r
}

// longList is the number of rows above which a preliminary list is set small:
// it goes with people into the tank.
const longList = 60

func dense(blocks []Block) []Block {
	for i, b := range blocks {
		if t, ok := b.(Table); ok {
			t.Dense = true
			blocks[i] = t
		}
	}
	return blocks
}

func dropHeading(blocks []Block) []Block {
	if len(blocks) > 0 {
		if _, is := blocks[0].(Heading); is {
			return blocks[1:]
		}
	}
	return blocks
}

// missing is what a preliminary list leaves open: rows left out, errors and
// open warnings, limitations.
func (w *writer) missing() []Block {
	var items []string
	if n := len(w.a.LeftOut); n > 0 {
		var keys []string
		for _, r := range w.a.LeftOut {
			keys = append(keys, r.Sheet+" "+r.Key)
		}
		items = append(items, fmt.Sprintf("%s left out for errors: %s", capital(spelling.Count(n, "row", "rows")), cut(keys, 12)))
	}
	var short, asked []string
	for _, l := range w.unrepaired() {
		if w.short(l) {
			short = append(short, l.Label)
		} else {
			asked = append(asked, l.Label)
		}
	}
	if w.a.Repairs != nil {
		for _, i := range w.a.Repairs.Unplaced {
			short = append(short, w.res.Locations[i].Label)
		}
	}
	if n := len(short); n > 0 {
		items = append(items, fmt.Sprintf("a repair for %s: %s", spelling.Count(n, "place", "places"), cut(short, 60)))
	}
	if n := len(asked); n > 0 {
		items = append(items, fmt.Sprintf("an engineer's judgement of %s: %s", spelling.Count(n, "place", "places"), cut(asked, 60)))
	}
	const most = 30
	shown, rest := 0, 0
	for _, f := range w.open() {
		if shown == most {
			rest++
			continue
		}
		shown++
		items = append(items, fmt.Sprintf("%s (%s %s): %s", w.placed(f), f.Severity, f.Rule, f.Message))
	}
	if rest > 0 {
		items = append(items, fmt.Sprintf("and %d more findings; the sheet Findings holds them all", rest))
	}
	items = append(items, w.res.Limitations...)
	if len(items) == 0 {
		return []Block{Paragraph{Text: "Nothing: no error, no open warning, no limitation."}}
	}
	return []Block{List{items}}
}
