package method

import (
	"slices"
	"strings"
	"sync"

	"platebook/rules/criteria"
	"platebook/rules/inspection"
	"platebook/rules/repair"
	"platebook/rules/unit"
)

// Check is what is told of one rule that repairs are held against, beyond the
// outcome itself.
type Check struct {
	ID    string
	Title string
	Means string
	Why   string
	Held  string // against what, where each repair has a limit of its own
}

// Checks are the rules for repairs, in the order a repair is held against them.
var Checks = []Check{
	{"patch.overlap", "overlap", "sound metal between the corrosion that a patch covers and its edge", "the weld must not stand on corroded metal", ""},
	{"patch.minimum", "least side", "the lesser side of a patch off every seam", "a small patch is all weld", ""},
	{"patch.minimum_seam", "least side over a seam", "the lesser side of a patch that crosses a seam or an old patch", "welds that cross want room to give", ""},
	{"patch.weld_clearance", "distance from other welds", "from the edge of a patch to the nearest seam or old patch that it does not cross", "two welds close to each other lock stresses in", ""},
	{"patch.beyond_seam", "reach beyond a seam", "how far a patch that crosses a seam or an old patch reaches beyond it", "its own weld must stand clear of the one it crosses", ""},
	{"patch.corners", "rounded corners", "the radius that the patch's corners can have", "a sharp corner starts a crack", ""},
	{"patch.inside", "place of the patch", "whether the patch lies on the plates and within their rim", "a patch over the rim has nothing to be welded to", ""},
	{"patch.perimeter", "metal under the edge", "the least thickness measured under the patch's edge", "a weld burns through thin metal", ""},
	{"patch.dent", "patch over a dent", "the thickness of a patch over a dent", "a dent leaves the patch without support; the dent's own size has no column", ""},
	{"critical.thickness", "thickness in the critical zone", "the thickness of a patch in the critical zone", "a thick patch stiffens the strip where the floor must bend", ""},
	{"critical.length", "length along the shell", "how far a patch in the critical zone reaches along the shell", "a long patch is a new ring, which wants a design of its own", ""},
	{"critical.tombstone", "tombstone", "whether a patch near the shell is carried to it with its sides square to the shell", "a weld left between patch and shell would crack", ""},
	{"critical.patch_on_patch", "patch on patch", "that no patch in the critical zone stands on another", "two layers hide the metal and its welds", ""},
	{"critical.spacing", "clear metal between patches", "from a patch in the critical zone to its neighbour, against half the lesser side of the two", "patches close to each other act as one long one", "≥ half the lesser side of the two"},
	{"critical.projected", "metal at the weld's toe", "the thickness left under the patch's edge at the end of the interval, in the critical zone", "the strip beside the weld carries what the zone carries", "≥ what the zone requires"},
	{"buildup.remaining", "metal under a weld build-up", "the least thickness left on the product side under a weld build-up", "a weld on thinner metal burns through", ""},
}

// CheckTitle is a rule for repairs in words, its id where it has none.
func CheckTitle(id string) string {
	for i := range Checks {
		if Checks[i].ID == id {
			return Checks[i].Title
		}
	}
	return id
}

// shop is a floor with repairs that keep the rules and repairs that break them.
func shop() *tank {
	t := bare().desired(5)
	t.in.Tank.Diameter = t.length("Tank", 40000)
	for _, p := range []struct {
		label string
		left  float64
	}{{"1-1", 14000}, {"1-2", 8050}} {
		t.plate(p.label, "1", "1", 6000, 6000)
		row := &t.in.Plates[len(t.in.Plates)-1]
		row.RowNo, row.Position = inspection.Label{}, inspection.Label{}
		row.Left, row.Bottom = t.length("Plates", p.left), t.length("Plates", -3000)
	}
	n := 0
	pit := func(x, y, size, left float64, side string) {
		n++
		t.at(spot{id: string(rune('a' + n)), plate: "1-1", x: x, y: y, side: side, method: "UT", rest: left, length: size, width: size})
	}
	patch := func(name string, x, y, length, width, thickness float64, shape string) {
		t.repair(name, "patch", "1-1", x, y, length, width, thickness, "planned")
		t.in.Repairs[len(t.in.Repairs)-1].Shape = given(t, "Planned repairs", shape)
	}
	const rounded, tombstone = "rounded rectangle", "tombstone"
	pit(2500, 3000, 60, 3.2, "soil")
	patch("R1", 2500, 3000, 200, 200, 6.35, rounded) // keeps every rule
	t.reading("1-1", 2400, 3000, 6.1)
	pit(2500, 1500, 100, 3.2, "soil")
	patch("R2", 2500, 1500, 120, 90, 6.35, rounded) // too small, thin metal at its edge
	t.reading("1-1", 2440, 1500, 2.2)
	pit(120, 3000, 40, 3.2, "soil")
	patch("R3", 120, 3000, 150, 150, 6.35, rounded) // over its seam, but hardly
	pit(25, 2000, 40, 3.2, "soil")
	patch("R4", 25, 2000, 400, 400, 6.35, rounded) // well over its seam
	pit(180, 1000, 40, 3.2, "soil")
	patch("R5", 180, 1000, 200, 200, 6.35, rounded) // too near its seam
	patch("R6", 5950, 300, 200, 200, 6.35, rounded) // over the rim
	pit(5870, 3000, 40, 2.7, "soil")
	patch("R7", 5850, 3000, 500, 300, 6.35, tombstone) // keeps the rules of the critical zone
	t.reading("1-1", 5720, 2750, 6.2)
	pit(5830, 3600, 40, 2.7, "soil")
	patch("R8", 5800, 3700, 800, 300, 9.5, tombstone) // thick, long, near the next
	t.reading("1-1", 5650, 3500, 2.9)
	pit(5500, 1200, 40, 3.2, "soil")
	patch("R9", 5500, 1200, 200, 200, 6.35, rounded) // beside the shell and no tombstone
	t.patch("X1", "1-1", 5750, 4700, 200, 200, 6.35)
	patch("R10", 5750, 4700, 300, 300, 6.35, tombstone) // on an old patch
	for i, d := range []struct{ x, thickness float64 }{{1000, 6.35}, {1600, 5}} {
		v := inspection.Visual{Row: t.row("Visual", "D"+string(rune('1'+i)))}
		v.ID, v.Plate, v.Item = given(t, "Visual", "D"+string(rune('1'+i))), given(t, "Visual", "1-1"), given(t, "Visual", "dent")
		v.X, v.Y = t.length("Visual", d.x), t.length("Visual", 4500)
		t.in.Visual = append(t.in.Visual, v)
		patch("R1"+string(rune('1'+i)), d.x, 4500, 300, 300, d.thickness, rounded)
	}
	pit(3500, 4500, 40, 4.5, "product")
	t.repair("R13", "weld build-up", "1-1", 3500, 4500, 100, 100, 0, "planned")
	pit(3500, 3500, 40, 2.2, "product")
	t.repair("R14", "weld build-up", "1-1", 3500, 3500, 100, 100, 0, "planned")
	return t
}

// ShownCheck is a rule for repairs with what the program holds it to, and an
// outcome of either kind.
type ShownCheck struct {
	Check
	Clause, Source string
	Limit          string // with its sign, "" where it is a matter of yes or no
	Kept, Broken   string // as a report prints them
	Verify         bool
}

// ShowChecks are the rules for repairs as the scenes met them.
func ShowChecks() []ShownCheck { return checked() }

var checked = sync.OnceValue(func() []ShownCheck {
	out := make([]ShownCheck, len(Checks))
	for i, c := range Checks {
		out[i].Check = c
	}
	a := shop().judge()
	for i := range a.Repairs.Items {
		it := &a.Repairs.Items[i]
		for _, c := range it.Checks {
			n := slices.IndexFunc(out, func(s ShownCheck) bool { return s.ID == c.ID })
			if n < 0 {
				continue // a test holds the list against the program
			}
			out[n].take(it, &c)
		}
	}
	return out
})

func (s *ShownCheck) take(it *repair.Item, c *repair.Check) {
	s.Clause, s.Source, s.Verify = c.Clause, c.Source, c.Verify
	if !c.Known {
		return
	}
	if s.Held != "" {
		s.Limit = s.Held
	}
	if c.Limit.Known && s.Limit == "" {
		s.Limit = c.Op + " " + c.Kind.TextUnit(unit.SI, float64(c.Limit.V), 0)
	}
	what := it.Label + ": " + c.Text(unit.SI)
	if c.OK && s.Kept == "" {
		s.Kept = what
	}
	if !c.OK && s.Broken == "" {
		s.Broken = what
	}
}

// FindCheck is the rule of an id, nil without one.
func FindCheck(id string) *ShownCheck {
	for _, c := range ShowChecks() {
		if strings.EqualFold(c.ID, id) {
			return &c
		}
	}
	return nil
}

func (s *ShownCheck) mark() string {
	switch {
	case s.Verify:
		return string(criteria.Memory)
	case s.Source == string(criteria.Practice), s.Source == string(criteria.Derived):
		return s.Source
	case strings.HasPrefix(s.Source, "API 653"), strings.Contains(s.Source, "county"):
		return string(criteria.Public)
	}
	return string(criteria.Standard)
}

func (s *ShownCheck) explained() *Explained {
	e := &Explained{
		Name: s.ID, Title: s.Title, Section: 10, Means: s.Means, Why: s.Why, Mark: s.mark(), Source: s.Source,
		Outside: "what it needs is not recorded: not checked, and the report says so", Formulas: []FormText{}, Symbols: []Symbol{},
	}
	if s.Clause != "" {
		e.Clauses = []string{"API Std 653, " + s.Clause}
	}
	if s.Limit != "" {
		e.Formulas = append(e.Formulas, FormText{SI: s.ID + " " + s.Limit})
	} else {
		e.Formulas = append(e.Formulas, FormText{SI: s.ID + ": yes or no"})
	}
	e.Example = &ExampleText{Tank: "a repair that breaks it", Before: s.Broken, With: "one that keeps it", After: s.Kept}
	return e
}
