package assess

import (
	"math"
	"strconv"
	"strings"

	"platebook/rules/criteria"
	"platebook/rules/inspection"
	"platebook/rules/sizing"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// policy says how an estimate without a prove-up counts. "block" is refused
// by a check; a preliminary result then takes the default.
type policy uint8

const (
	withAllowance policy = iota
	asEstimated
	leftOut
)

func (w *work) policy() policy {
	switch w.set.Get(criteria.UnprovedIndications).Text {
	case "estimate":
		return asEstimated
	case "exclude":
		return leftOut
	}
	return withAllowance
}

// pairs are the losses that have a tied ultrasonic value, and the fits of the
// nominals that have enough of them.
func (w *work) pairs(at []place) {
	if w.like != nil {
		w.fits = w.like.fits
		return
	}
	in := w.in
	var pairs []sizing.Pair
	for i := range in.Indications {
		ind := &in.Indications[i]
		if ind.Out || !relevant(ind) || !scanned(ind) || !ind.Loss.OK() || !at[i].nominal.Known {
			continue
		}
		best := -1
		for _, u := range w.tied[i] {
			if r := in.ProveUps[u].Remaining; r.OK() && (best < 0 || r.Value < in.ProveUps[best].Remaining.Value) {
				best = u
			}
		}
		if best < 0 {
			continue
		}
		nominal := at[i].nominal.V
		by := ind.By.Value
		if !ind.By.OK() && at[i].plate >= 0 {
			by = in.Plates[at[i].plate].ScannedBy.Value
		}
		pairs = append(pairs, sizing.Pair{
			MFL: float64(ind.Loss.Value), UT: 100 * float64(nominal-in.ProveUps[best].Remaining.Value) / float64(nominal),
			Nominal: nominal, Plate: at[i].plate, Indication: i, ProveUp: best, By: strings.TrimSpace(by), Side: at[i].side.String(),
		})
	}
	w.res.Sizing = sizing.Judge(pairs, in.Units)
	least := int(w.number(criteria.SizingMinimumPairs))
	byNominal := map[unit.Length][]sizing.Pair{}
	var nominals []unit.Length
	for _, p := range pairs {
		key := p.Nominal
		for _, n := range nominals {
			if sizing.Same(n, key) {
				key = n
			}
		}
		if _, ok := byNominal[key]; !ok {
			nominals = append(nominals, key)
		}
		byNominal[key] = append(byNominal[key], p)
	}
	for _, n := range nominals {
		if f := sizing.Compare(byNominal[n]); f.Pairs >= least && f.Line() {
			w.fits = append(w.fits, nominalFit{n, f})
		}
	}
}

// screening says whether a row's values are estimates of a scan. A method that
// is not known is trusted no further.
func screening(i *inspection.Indication) bool {
	return !ultrasonic(i) && !inspection.Is(i.Method, "visual")
}

// scanned says whether a row was found by MFL or hand scanning.
func scanned(i *inspection.Indication) bool {
	return inspection.Is(i.Method, "MFL") || inspection.Is(i.Method, "hand scan")
}

func ultrasonic(i *inspection.Indication) bool {
	return inspection.Is(i.Method, "UT")
}

func (w *work) fitOf(nominal unit.Length) *sizing.Fit {
	for i := range w.fits {
		if sizing.Same(w.fits[i].nominal, nominal) {
			return &w.fits[i].fit
		}
	}
	return nil
}

// allowance is what is taken off an unproved estimate, in points of loss.
//
//	a = max(0, P95(Loss) − Loss) with enough pairs on that nominal
//
// outside the losses the pairs span not below Sizing allowance; without
// enough pairs Sizing allowance itself.
func (w *work) allowance(loss float64, nominal unit.Length) float64 {
	plain := w.number(criteria.SizingAllowance)
	f := w.fitOf(nominal)
	if f == nil {
		return plain
	}
	a := math.Max(0, float64(f.Upper(loss, 0.95).V)-loss)
	if !f.Covers(loss) {
		a = math.Max(a, plain)
	}
	return a
}

// estimates are the candidates of a scan's row.
func (w *work) estimates(ind *inspection.Indication, at *place) []candidate {
	if !at.nominal.Known {
		return nil
	}
	nominal := float64(at.nominal.V)
	var out []candidate
	add := func(loss float64, expr string, inputs ...step.Input) {
		c := candidate{rank: rankEstimate, basis: ByMFL, proveUp: -1, sound: at.sound, loss: loss, depth: ""}
		a := 0.0
		if w.policy() == withAllowance {
			a, c.basis = w.allowance(loss, at.nominal.V), ByAllowance
		}
		c.allowance = a
		c.through = nominal*(1-loss/100) <= 0
		c.r = math.Max(0, nominal*(1-(loss+a)/100))
		if w.like != nil {
			out = append(out, c)
			return
		}
		f := w.fitOf(at.nominal.V)
		switch {
		case a == 0 && c.basis == ByMFL && expr == exprLossPoints:
			c.expr, c.inputs = exprLoss, append(inputs, at.from)
		case f != nil && c.basis == ByAllowance && expr == exprLossPoints:
			c.expr = exprLossAllowed
			c.inputs, c.shared = append(inputs, at.from), w.lineInputs(f, loss)
		default:
			in := w.criterion("a", criteria.SizingAllowance)
			if c.basis == ByMFL || f != nil {
				in = constant("a", "allowance", a, unit.Share, map[bool]string{true: "estimate as it is", false: "regression of MFL and UT"}[c.basis == ByMFL])
			}
			c.expr, c.inputs = expr, append(inputs, at.from, in)
		}
		out = append(out, c)
	}
	if ind.Loss.OK() {
		add(float64(ind.Loss.Value), exprLossPoints, cell("Loss", "estimated loss", ind.Loss, unit.Share))
	}
	if ind.Remaining.OK() {
		add(100*(1-float64(ind.Remaining.Value)/nominal), exprRestPoints, cell("r_e", "estimated remaining", ind.Remaining, unit.Thickness))
	}
	if ind.Depth.OK() && at.sound.Known {
		add(100*(1-float64(at.sound.V-ind.Depth.Value)/nominal), exprDepthPoints, at.soundFrom, cell("d", "estimated depth", ind.Depth, unit.Thickness))
	}
	return out
}

// LineText says where the constants of a sizing line come from: the pairs of
// one nominal thickness.
func LineText(f *sizing.Fit, nominal unit.Length, sys unit.System) string {
	return "regression of " + strconv.Itoa(f.Pairs) + " pairs of " + unit.Thickness.TextUnit(sys, float64(nominal), 0)
}

// fitted is the nominal thickness of a fit.
func (w *work) fitted(f *sizing.Fit) unit.Length {
	for i := range w.fits {
		if &w.fits[i].fit == f {
			return w.fits[i].nominal
		}
	}
	return 0
}

// lineInputs are the constants of a sizing line for a live formula.
func (w *work) lineInputs(f *sizing.Fit, loss float64) []step.Input {
	if in := w.lines[f]; in != nil && f.Covers(loss) {
		return in
	}
	text := LineText(f, w.fitted(f), w.in.Units)
	a := constant("a", "least allowance within the pairs' range", 0, unit.Share, text)
	if !f.Covers(loss) {
		a = w.criterion("a", criteria.SizingAllowance)
	}
	a.Kind = unit.Share
	in := []step.Input{
		a,
		constant("b0", "intercept", float64(f.Intercept.V), unit.Share, text),
		constant("b1", "slope", float64(f.Slope.V), unit.None, text),
		constant("q", "Student's t(0.95, n − 2)", f.T(0.95), unit.None, text),
		constant("s", "residual standard deviation", float64(f.ResidualSD.V), unit.Share, text),
		constant("n", "pairs", float64(f.Pairs), unit.Number, text),
		constant("x_m", "mean MFL loss", f.MeanX, unit.Share, text),
		constant("Sxx", "spread of the MFL losses", f.Sxx, unit.None, text),
	}
	if f.Covers(loss) {
		w.lines[f] = in
	}
	return in
}
