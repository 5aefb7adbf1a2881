package api653_5

import (
	"errors"
	"math"
	"strings"

	"platebook/rules/unit"
)

// ShellFactor is the 2.6 of the shell formula in metres, millimetres and
// megapascals: 25.4·2.6·psi/0.3048², from exact conversions.
const ShellFactor = 2.6 * 25.4 * 0.006894757293168361 / (0.3048 * 0.3048)

// ShellLeast is the least thickness the shell formula may give.
//
// Source: API Std 653, 4.3.3.1.
const ShellLeast = unit.Length(0.10 * 25.4)

// LargestDiameter is how far the one-foot method reaches.
//
// Source: API Std 653, 4.3.3.1.
const LargestDiameter = 200 * unit.Foot

// Reasons why a formula gives no thickness.
var (
	ErrDiameter = errors.New("the diameter is over 61 m (200 ft), where the one-foot method does not apply")
	ErrInput    = errors.New("diameter, fill height, specific gravity, stress and joint efficiency must be above 0")
	ErrStress   = errors.New("the stress is at or over 32,400 psi: engineering review")
	ErrGravity  = errors.New("the specific gravity is 1 or more: the table for it is not built in, needs evaluation")
)

// MinimumShell is the least acceptable thickness of a shell course by the
// one-foot method.
//
//	t_min = max(0.10 in, 2.6·D·(H − 1)·G/(S·E)), ft and psi
//	t_min = max(2.54, 4.9011289·D·(H − 0.3048)·G/(S·E)), mm, m, MPa
//
// D inside diameter, up to 200 ft; H fill height above the bottom of the
// course; G specific gravity; S allowable stress; E joint efficiency, 0 to 1.
// Outside these there is an error, no number. The constant is converted
// exactly.
//
// Source: API Std 653, 4.3.3.1.
// Check: D 60 ft, H 32 ft, G 1.5, E 1, S 23,200 psi give 0.31267 in (forum,
// shell), TestMinimumShell.
func MinimumShell(d, h unit.Length, g unit.Ratio, s unit.Stress, e unit.Ratio) (unit.Length, error) {
	if !(d > 0 && h > 0 && g > 0 && s > 0 && e > 0) {
		return 0, ErrInput
	}
	if d > LargestDiameter+1e-6 {
		return 0, ErrDiameter
	}
	t := ShellFactor * float64(d/unit.Metre) * (float64(h/unit.Metre) - 0.3048) * float64(g) / (float64(s) * float64(e))
	return max(ShellLeast, unit.Length(t)), nil
}

// Steel is the allowable stress of one shell steel for the lower two courses.
type Steel struct {
	Name  string
	Yield unit.Stress
	Allow unit.Stress
}

// Steels is the table of shell steels; the last is for a steel not known.
//
// Source: API Std 653, Table 4.1 (lower two courses), yield after the steel's
// own standard; public extract, verify.
// Check: checksum and order, TestSteels.
var Steels = []Steel{
	{"A283-C", 30000 * unit.PSI, 23600 * unit.PSI},
	{"A285-C", 30000 * unit.PSI, 23600 * unit.PSI},
	{"A36", 36000 * unit.PSI, 24900 * unit.PSI},
	{"A516-55", 30000 * unit.PSI, 23600 * unit.PSI},
	{"A516-60", 32000 * unit.PSI, 25600 * unit.PSI},
	{"A516-65", 35000 * unit.PSI, 27900 * unit.PSI},
	{"A516-70", 38000 * unit.PSI, 30000 * unit.PSI},
	{"A537-1", 50000 * unit.PSI, 30000 * unit.PSI},
	{"A537-2", 60000 * unit.PSI, 34300 * unit.PSI},
	{"unknown", 30000 * unit.PSI, 23600 * unit.PSI},
}

// FindSteel is the steel of a name, in any case; a name not in the table and a
// blank one are the unknown steel, whose stress is the least of the table.
func FindSteel(name string) Steel {
	for _, s := range Steels {
		if strings.EqualFold(s.Name, strings.TrimSpace(name)) {
			return s
		}
	}
	return Steels[len(Steels)-1]
}

// AllowableStress is the rule behind the table for the lower two courses.
//
//	S = min(0.80·Y, 0.429·T)
//
// Y yield, T tensile strength, any stress above 0.
//
// Source: API Std 653, 4.3.3.1.
// Check: Y 36,000, T 58,000 psi give 24,882 psi, tabulated 24,900, TestSteels.
func AllowableStress(yield, tensile unit.Stress) unit.Stress {
	return unit.Stress(math.Min(0.80*float64(yield), 0.429*float64(tensile)))
}
