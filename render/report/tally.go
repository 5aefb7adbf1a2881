package report

import (
	"fmt"
	"slices"

	"platebook/rules/assess"
	"platebook/rules/spelling"
	"platebook/rules/unit"
)

// tally is the indications by what became of them: the parts make up what is
// recorded.
type tally struct {
	recorded    int // rows with an indication that was read
	notRelevant int // marked so by the inspector, in no result
	proved      int // of the others, with a prove-up tied to them
	leftOut     int // rows taken out by an error, not among the recorded
}

func (t tally) relevant() int { return t.recorded - t.notRelevant }

func (w *writer) tally() tally {
	var t tally
	for i := range w.res.Locations {
		l := &w.res.Locations[i]
		if l.Kind != assess.IndicationAt {
			continue
		}
		t.recorded++
		switch {
		case l.Verdict == assess.NotRelevant:
			t.notRelevant++
		case len(l.Tied) > 0:
			t.proved++
		}
	}
	t.leftOut = w.rowsOut("Indications")
	return t
}

// rowsOut counts the rows of a sheet that an error takes out.
func (w *writer) rowsOut(kind string) int {
	name := kind
	if s := w.in.Sheet(kind); s != nil {
		name = s.Name
	}
	n := 0
	for _, r := range w.a.LeftOut {
		if r.Sheet == name {
			n++
		}
	}
	return n
}

// inWords counts the indications in a sentence that leaves none of them out.
func (w *writer) inWords(t tally) string {
	s := capital(count(t.recorded, "indication")) + " " + was(t.recorded) + " recorded"
	switch {
	case t.recorded == 0:
		s = w.noneRecorded()
	case t.relevant() == 0:
		s += ", " + spelling.Choose(t.recorded, "and is", "and all are") + " marked not relevant"
	case t.notRelevant > 0:
		s += fmt.Sprintf(": %d marked not relevant and %d judged here, %s", t.notRelevant, t.relevant(), provedOf(t))
	default:
		s += ", " + provedOf(t)
	}
	if t.leftOut > 0 {
		s += fmt.Sprintf("; %s of that sheet %s left out because of an error in %s", spelling.Count(t.leftOut, "further row", "further rows"), was(t.leftOut), spelling.Choose(t.leftOut, "it", "them"))
	}
	return s
}

func provedOf(t tally) string {
	switch {
	case t.proved == 0:
		return "none of them proved up"
	case t.proved == t.relevant():
		return spelling.Choose(t.proved, "proved up", "all of them proved up")
	}
	return fmt.Sprintf("%d of them proved up", t.proved)
}

// noneRecorded is a floor without an indication: a clean floor only where it
// was examined, and where nothing in the workbook was left unread.
func (w *writer) noneRecorded() string {
	switch {
	case w.a.Counts.Errors > 0 || len(w.a.LeftOut) > 0:
		return "No indications could be read from the workbook, which has errors: nothing follows from that for the floor"
	case !w.examined():
		return "No indications were recorded, and no plate is recorded as examined: nothing follows from that for the floor"
	case slices.ContainsFunc(w.res.Locations, func(l assess.Location) bool { return l.Kind == assess.ProveUpAt }):
		return "No indications were recorded, only prove-ups that stand alone"
	}
	return "No indications were recorded: a clean floor within the areas examined and the reach of the methods"
}

// examined says whether any of the floor is recorded as examined.
func (w *writer) examined() bool {
	c := w.a.Plan.Coverage
	at := func(m unit.Maybe[unit.Percent]) bool { return m.Known && m.V > 0 }
	return at(c.MFL) || at(c.Hand) || at(c.UT)
}

// noneShown is the same in place of a table.
func (w *writer) noneShown() string {
	if w.a.Counts.Errors > 0 || len(w.a.LeftOut) > 0 {
		return "No indications could be read from the workbook, which has errors."
	}
	if n := w.tally().notRelevant; n > 0 {
		return fmt.Sprintf("No indications but %d marked not relevant were recorded.", n)
	}
	return "No indications were recorded."
}
