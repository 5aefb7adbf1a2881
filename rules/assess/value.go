package assess

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"platebook/rules/inspection"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// candidate is one value that could stand for a location's remaining
// thickness, with the formula it comes from.
type candidate struct {
	rank    int
	r       float64
	basis   Basis
	expr    string // with symbols still without their suffix
	inputs  []step.Input
	shared  []step.Input // inputs after these that others have too
	proveUp int
	sound   unit.Maybe[unit.Length]
	depth   string // symbol of the depth itself, where one was measured

	loss      float64 // of an estimate, without allowance
	allowance float64 // points taken off an estimate
	through   bool    // an estimate that leaves nothing by itself
}

func (c candidate) estimate() bool { return c.basis == ByMFL || c.basis == ByAllowance }

// hole says whether the metal is through, not by the allowance alone.
func (c candidate) hole() bool {
	if c.estimate() {
		return c.through
	}
	return c.r <= 0
}

// bare is the thickness without the allowance of an estimate, not below 0.
func (c candidate) bare(l *Location) float64 {
	if c.estimate() {
		return math.Max(0, float64(l.Nominal.V)*(1-c.loss/100))
	}
	return math.Max(0, c.r)
}

// The ranks: the first that exists counts, within it the least.
const (
	rankUT = iota
	rankPitGauge
	rankEstimate
)

// value is what a location's thickness comes from before pairs: the
// candidates of the rank that counts, least first.
type value struct{ top []candidate }

func (v value) known() bool { return len(v.top) > 0 }

// weigh keeps the first rank that exists, least first. On the product side UT
// and pit gauge are one rank: a probe may not seat in a pit.
func weigh(all []candidate, side Side) value {
	best := rankEstimate + 1
	for i := range all {
		if side.OnProduct() && all[i].rank == rankPitGauge {
			all[i].rank = rankUT
		}
		best = min(best, all[i].rank)
	}
	v := value{top: all[:0]}
	for _, c := range all {
		if c.rank == best {
			v.top = append(v.top, c)
		}
	}
	if len(v.top) > 1 {
		slices.SortStableFunc(v.top, func(a, b candidate) int {
			switch {
			case a.r < b.r:
				return -1
			case a.r > b.r:
				return 1
			}
			return 0
		})
	}
	return v
}

// without drops candidates of the given prove-ups, where others are left.
func (v value) without(drop []int) value {
	var out value
	for _, c := range v.top {
		if c.proveUp < 0 || c.basis != ByUT || !slices.Contains(drop, c.proveUp) {
			out.top = append(out.top, c)
		}
	}
	if len(out.top) == 0 {
		return v
	}
	return out
}

const mostAlternatives = 6

// expression is the formula of the value with its inputs: the least of the
// candidates of its rank. Beyond a handful only the least ones are written.
func (v value) expression(suffix string) (expr string, inputs, shared []step.Input) {
	top := v.top
	if len(top) > mostAlternatives {
		top = top[:mostAlternatives]
	}
	if len(top) == 1 {
		return named(top[0], suffix)
	}
	parts := make([]string, len(top))
	for i, c := range top {
		e, in, _ := named(c, suffix+"_"+strconv.Itoa(i+1))
		parts[i] = e
		inputs = append(inputs, in...)
	}
	return "min(" + strings.Join(parts, ", ") + ")", inputs, nil
}

// named writes a candidate's formula with a suffix on each of its symbols; with
// one, all inputs are the formula's own.
func named(c candidate, suffix string) (expr string, inputs, shared []step.Input) {
	if suffix == "" {
		return c.expr, c.inputs, c.shared
	}
	inputs = slices.Concat(c.inputs, c.shared)
	for i := range inputs {
		inputs[i].Symbol += suffix
	}
	return suffixed(c.expr, suffix), inputs, nil
}

// suffixed puts a suffix on each symbol of an expression; functions and
// numbers stay.
func suffixed(expr, suffix string) string {
	var b strings.Builder
	rs := []rune(expr)
	for i := 0; i < len(rs); {
		if !wordRune(rs[i]) {
			b.WriteRune(rs[i])
			i++
			continue
		}
		j := i
		for j < len(rs) && wordRune(rs[j]) {
			j++
		}
		word := string(rs[i:j])
		b.WriteString(word)
		if (rs[i] < '0' || rs[i] > '9') && (j == len(rs) || rs[j] != '(') {
			b.WriteString(suffix)
		}
		i = j
	}
	return b.String()
}

func wordRune(r rune) bool {
	return r == '_' || r == '.' || (r >= '0' && r <= '9') || (r >= 'a' && r <= 'z') || (r >= 'A' && r <= 'Z')
}

// The forms a value is written in.
const (
	exprUT          = "UT"
	exprDepth       = "t_s - d"
	exprLoss        = "t_nom*(1 - Loss/100)"
	exprLossPoints  = "t_nom*(1 - (Loss + a)/100)"
	exprRestPoints  = "r_e - t_nom*a/100"
	exprDepthPoints = "t_s - d - t_nom*a/100"
	exprLossAllowed = "t_nom*(1 - max(Loss + a, b0 + b1*Loss + q*s*sqrt(1 + 1/n + (Loss - x_m)^2/Sxx))/100)"
)

// inputs are those of a candidate, none where no step will be written.
func (w *work) inputs(in ...step.Input) []step.Input {
	if w.like != nil {
		return nil
	}
	return append(make([]step.Input, 0, len(in)), in...)
}

// proveUpValues are the candidates a prove-up gives.
func (w *work) proveUpValues(u int, p *plate, nominal unit.Maybe[unit.Length], onPatch bool, from step.Input) []candidate {
	row := &w.in.ProveUps[u]
	sound, soundFrom := w.sound(row, p, nominal, onPatch, from)
	var out []candidate
	if row.Remaining.OK() {
		out = append(out, candidate{
			rank: rankUT, r: float64(row.Remaining.Value), basis: ByUT, expr: exprUT, proveUp: u, sound: sound,
			inputs: w.inputs(cell("UT", "remaining by UT", row.Remaining, unit.Thickness)),
		})
	}
	if row.Depth.OK() && sound.Known {
		out = append(out, candidate{
			rank: rankPitGauge, r: float64(sound.V) - float64(row.Depth.Value), basis: ByPitGauge, expr: exprDepth, proveUp: u,
			sound: sound, depth: "d",
			inputs: w.inputs(soundFrom, cell("d", "depth", row.Depth, unit.Thickness)),
		})
	}
	return out
}

// sound is t_s beside a prove-up: its own Sound thickness, else the plate's
// median reading, else the nominal. On a patch the plate's readings say
// nothing.
func (w *work) sound(row *inspection.ProveUp, p *plate, nominal unit.Maybe[unit.Length], onPatch bool, from step.Input) (unit.Maybe[unit.Length], step.Input) {
	if row != nil && row.Sound.OK() {
		return unit.Some(row.Sound.Value), cell("t_s", "sound metal", row.Sound, unit.Thickness)
	}
	if onPatch || p == nil {
		return nominal, as("t_s", from)
	}
	return p.soundOf()
}
