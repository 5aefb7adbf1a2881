package method

import (
	"platebook/rules"
	"platebook/rules/criteria"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// scene is one invented tank; together the scenes take every branch of the
// formulas at least once.
type scene struct {
	name  string
	about string // as an example names it: "the example tank"
	build func() *tank
	old   func() *tank // an earlier inspection beside it, or nil
}

func (s *scene) judge(change func(*tank)) *rules.Assessment {
	t := s.build()
	if change != nil {
		change(t)
	}
	if s.old != nil {
		return since(s.old(), t)
	}
	return t.judge()
}

var (
	firstYears = on("2023-11-01")
	lining     = on("2026-05-01")
	oldLining  = on("2010-05-01")
)

func blank[T any](f inspection.Field[T]) inspection.Field[T] {
	return inspection.Field[T]{Ref: f.Ref}
}

// unmeasured is the example without one ultrasonic value, so that no rate can
// be known.
func unmeasured() *tank {
	t := example()
	t.in.ProveUps, t.in.Readings = nil, nil
	return t
}

var scenes = []scene{
	{"example", "the example tank", example, nil},
	{"planned", "the example tank with two patches planned", planned, nil},
	{"completed", "the example tank with two patches completed", func() *tank {
		t := planned()
		for i := range t.in.Repairs {
			t.in.Repairs[i].Status = given(t, "Planned repairs", "completed")
		}
		return t
	}, nil},
	{"recomputed", "the example tank with two patches, rates recomputed", func() *tank { return planned().set(criteria.RateAfterRepair, "recomputed") }, nil},
	{"young", "the example tank with a floor of 2.5 years", func() *tank { return example().installed(firstYears).lined("thin film", firstYears, 20).barrier() }, nil},
	{"young, protected", "the example tank with a floor of 2.5 years, reinforced lining and cathodic protection", func() *tank {
		return example().installed(firstYears).lined("reinforced", firstYears, 20).protected()
	}, nil},
	{"unmeasured", "the example tank without an ultrasonic value", unmeasured, nil},
	{"young unmeasured", "a floor of 2.5 years without an ultrasonic value", func() *tank { return unmeasured().installed(firstYears) }, nil},
	{"first service unknown", "the example tank under the initial rule, its age not known", func() *tank {
		t := example().set(criteria.IntervalRule, "initial").lined("thin film", lining, 14)
		t.in.Tank.FloorInstalled = blank(t.in.Tank.FloorInstalled)
		return t
	}, nil},
	{"no nominal", "the example tank, its nominal thickness not given", func() *tank {
		t := example()
		t.in.Tank.NominalThickness = blank(t.in.Tank.NominalThickness)
		return t
	}, nil},
	{"barrier", "the example tank with a release-prevention barrier", func() *tank { return example().barrier() }, nil},
	{"lined", "the example tank, patched, with a thin film lining", func() *tank { return planned().lined("thin film", lining, 14) }, nil},
	{"lined and protected", "the example tank with thin film lining and cathodic protection", func() *tank { return planned().lined("thin film", lining, 14).protected() }, nil},
	{"thick lining", "the example tank, patched, with a reinforced lining", func() *tank { return planned().thickLined(lining, 14) }, nil},
	{"thick lining, barrier", "the example tank with a reinforced lining and a barrier", func() *tank { return planned().thickLined(lining, 14).barrier() }, nil},
	{"protected", "the example tank under effective cathodic protection", func() *tank { return example().protected() }, nil},
	{"limits", "the example tank, patched, with limits of owner and jurisdiction", func() *tank {
		t := planned().set(criteria.OwnerLimit, "12")
		t.in.Tank.JurisdictionLimit = given(t, "Tank", unit.Years(15))
		return t
	}, nil},
	{"ring", "a tank of 30 m with an annular ring", ringed, nil},
	{"ring, lined", "a tank of 30 m with an annular ring and a thin film lining", func() *tank { return ringed().lined("thin film", lining, 14) }, nil},
	{"ring, linear", "a tank of 30 m with an annular ring, table read linearly", func() *tank { return ringed().set(criteria.AnnularInterpolation, "linear") }, nil},
	{"shell given", "the example tank with its shell calculated elsewhere", func() *tank {
		t := example()
		t.in.Tank.FirstCourseRequired = t.length("Tank", 5.5)
		return t
	}, nil},
	{"shell unknown", "the example tank without its fill height", func() *tank {
		t := example()
		t.in.Tank.MaximumFillHeight = blank(t.in.Tank.MaximumFillHeight)
		return t
	}, nil},
	{"pairs", "a floor with ten pairs of MFL and UT", paired, nil},
	{"half", "a floor of which a part was not examined", half, nil},
	{"survey", "a tank with a settlement survey", surveyed, nil},
	{"values", "a floor with every kind of value", forms, nil},
	{"unproved", "the example tank, estimates counted as they are", func() *tank { return forms().set(criteria.UnprovedIndications, "estimate") }, nil},
	{"compared", "the example tank set beside its earlier inspection", now, then},
	{"compared, protected", "a floor under cathodic protection set beside its earlier inspection", func() *tank { return now().protected() }, then},
	{"compared, new pit", "a floor under cathodic protection with a pit that its earlier inspection did not have", func() *tank { return now().protected() }, func() *tank {
		t := then()
		t.in.Indications = t.in.Indications[1:]
		return t
	}},
	{"compared, lined", "a lined floor set beside its earlier inspection", func() *tank { return now().lined("thin film", oldLining, 30) }, then},
}

// Scene evaluates one of the invented tanks anew, by its name; nil for a name
// that is none.
func Scene(name string) *rules.Assessment {
	for i := range scenes {
		if scenes[i].name == name {
			return scenes[i].judge(nil)
		}
	}
	return nil
}
