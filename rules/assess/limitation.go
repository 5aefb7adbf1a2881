package assess

import (
	"fmt"

	"platebook/rules/criteria"
	"platebook/rules/floor"
	"platebook/rules/inspection"
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
		say("%d estimates without a prove-up are left out of the minima (Unproved indications: exclude).", excluded)
	}
	if valueless > 0 {
		say("%d indications or prove-ups have no value that can be used and are in no minimum.", valueless)
	}
	if bare > 0 {
		say("%d existing patches have no thickness that can be used and are in no minimum.", bare)
	}
	if unplaced > 0 {
		say("%d locations have no place in plan: whether they stand in the critical zone is not known, they are held against the general requirement only.", unplaced)
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
		say("As planned rests on the program's proposal, not on repairs that were planned.")
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
