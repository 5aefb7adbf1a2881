package recount_test

import (
	"maps"
	"os"
	"slices"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"

	"platebook/rules/finding"
	"platebook/rules/unit"
	"platebook/workbook/invented"
	"platebook/workbook/recount"
)

// tanks is how many invented tanks are counted twice; PLATEBOOK_TANKS asks for
// more, see .ci/long, or for one seed with FROM:TO.
func tanks(t *testing.T) (from, to uint64) {
	from, to = 1, 81
	if testing.Short() {
		to = 61
	}
	if v := os.Getenv("PLATEBOOK_TANKS"); v != "" {
		a, b, both := strings.Cut(v, ":")
		n, err := strconv.ParseUint(a, 10, 64)
		if err != nil {
			t.Fatal(err)
		}
		from, to = 1, n+1
		if both {
			m, err := strconv.ParseUint(b, 10, 64)
			if err != nil {
				t.Fatal(err)
			}
			from, to = n, m
		}
	}
	return from, to
}

// The program and the second calculation agree to 1e-6 on every invented tank.
func TestProgramAgreesWithTheSecondCalculation(t *testing.T) {
	from, to := tanks(t)
	const crew = 2
	var compared atomic.Int64
	for first := range uint64(crew) {
		t.Run("", func(t *testing.T) {
			t.Parallel()
			for seed := from + first; seed < to; seed += crew {
				tank := invented.New(seed)
				n, wrong := agree(t, tank)
				compared.Add(int64(n))
				if wrong != nil {
					t.Errorf("tank %d: %d differ\n\t%s", seed, len(wrong), strings.Join(wrong[:min(len(wrong), 12)], "\n\t"))
				}
			}
		})
	}
	t.Cleanup(func() { t.Logf("%d numbers and words compared on %d tanks", compared.Load(), to-from) })
}

// agree holds the program's results of a tank against the second calculation.
func agree(t *testing.T, tank *invented.Tank) (compared int, wrong []string) {
	t.Helper()
	a := judged(t, tank, unit.SI)
	for _, f := range a.Findings {
		if f.Severity >= finding.Error && f.Rule != "R307" { // deep estimates without a prove-up are meant
			wrong = append(wrong, "error "+f.Rule+" "+f.Place()+": "+f.Message)
		}
	}
	got, want := flat(t, a), recount.Of(tank)
	for _, path := range slices.Sorted(maps.Keys(want)) {
		g, there := got[path]
		if !there && want[path] != nil {
			wrong = append(wrong, path+": absent, want "+differ(nil, want[path], 0))
			continue
		}
		compared++
		if d := differ(g, want[path], 1e-6); d != "" {
			wrong = append(wrong, path+": "+d)
		}
	}
	return compared, wrong
}
