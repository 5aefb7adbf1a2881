package assess

import (
	"fmt"

	"platebook/rules/criteria"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/spelling"
	"platebook/rules/unit"
)

// limitations says in sentences what the numbers leave out.
func (w *work) limitations(states []*state) {
	say := func(format string, a ...any) {
		w.res.Limitations = append(w.res.Limitations, fmt.Sprintf(format, a...))
	}
	var excluded, unplaced, valueless, bare int
	for i := range w.res.Locations {
		l := &w.res.Locations[i]
		switch {
		case l.Verdict == Excluded:
			excluded++
		case !l.Counts && l.Verdict != NotRelevant && (l.Kind == IndicationAt || l.Kind == ProveUpAt):
			valueless++
		case !l.Counts && l.Kind == PatchAt:
			bare++
		}
		if l.Counts && l.Zone == floor.Zone("") && (l.Kind == IndicationAt || l.Kind == ProveUpAt) {
			unplaced++
		}
	}
	if excluded > 0 {
		say("%s without a prove-up %s left out of the minima (criterion Unproved indications: exclude).", spelling.Count(excluded, "estimate", "estimates"), spelling.Choose(excluded, "is", "are"))
	}
	if valueless > 0 {
		say("%s %s no value that can be used and %s in no minimum.", spelling.Count(valueless, "indication or prove-up", "indications or prove-ups"), spelling.Choose(valueless, "has", "have"), spelling.Choose(valueless, "is", "are"))
	}
	if bare > 0 {
		say("%s %s no thickness that can be used and %s in no minimum.", spelling.Count(bare, "existing patch", "existing patches"), spelling.Choose(bare, "has", "have"), spelling.Choose(bare, "is", "are"))
	}
	if unplaced > 0 {
		say("%s %s no place in plan: whether %s in the critical zone is not known, and the general requirement alone is held against %s.", spelling.Count(unplaced, "location", "locations"), spelling.Choose(unplaced, "has", "have"), spelling.Choose(unplaced, "it stands", "they stand"), spelling.Choose(unplaced, "it", "them"))
	}
	var blind []string
	for i := range w.res.Locations {
		if l := &w.res.Locations[i]; l.Kind == SoundMetal && !l.Remaining.Known {
			blind = append(blind, l.Label)
		}
	}
	switch len(blind) {
	case 0:
	case 1:
		say("Plate %s has no value: not examined and without a reading, or without a nominal thickness. It is in no minimum.", blind[0])
	default:
		say("%d plates have no value, %s the first: not examined and without a reading, or without a nominal thickness. They are in no minimum.", len(blind), blind[0])
	}
	if u := states[0].rates.unknown; u != "" {
		say("Corrosion rates are not known: %s.", u)
		for i, s := range states {
			// a state that changes nothing is not told again
			if alone := s.out.ReadAlone; alone.Known && (i == 0 || alone != states[0].out.ReadAlone) {
				say("The rates of what was read would by themselves give an interval of %s years %s, shorter than the one calculated: which of them holds, a licensed person decides.",
					unit.IntervalText(alone.V), s.is.Words())
			}
		}
	}
	if w.in.Tank.JurisdictionLimit.State == inspection.Wrong {
		say("The Jurisdiction limit cannot be read: the interval is not held against it.")
	}
	if w.set.Get(criteria.UnprovedIndications).Text == "block" {
		say("Estimates without a prove-up count with the default allowance, although Unproved indications says block.")
	}
	if !w.zone.shell.Known {
		say("The shell's required thickness is not known (%s): in the critical zone half the bottom thickness alone decides.", w.zone.shell.Why)
	}
	if w.zone.hasRing && !w.zone.ring.Known {
		say("The annular ring is not judged: %s.", w.zone.ring.Why)
	}
	if !w.res.CriticalZone.Min.Known {
		say("Nothing was measured in the critical zone: it is not judged.")
	}
	say("The thickness of the floor outside the shell is not part of the workbook and is not checked.")
	if w.res.Proposed && w.anyNeed() {
		say("The results after repair rest on the repairs that the program proposes, not on repairs that were planned.")
	}
}

func (w *work) anyNeed() bool {
	for _, n := range w.needs {
		if n {
			return true
		}
	}
	return false
}
