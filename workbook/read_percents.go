package workbook

import (
	"fmt"
	"strings"

	"platebook/rules/finding"
	"platebook/rules/inspection"
)

// mixedPercents finds losses written as fractions: 0.45 beside 45. A magnetic
// scan cannot tell a loss of one percent, so a plain loss up to 1 by a scan
// is in doubt, as is a whole column of them.
func (t *table) mixedPercents(header string, scanned func(record int) bool, field func(record int) *inspection.Percent) {
	var c *column
	for i := range t.columns {
		if t.columns[i].def.Header == header {
			c = &t.columns[i]
		}
	}
	if c == nil || len(c.tally.small) == 0 {
		return
	}
	var s spots
	var example *inspection.Percent
	for _, n := range c.tally.small {
		if c.tally.large > 0 && !scanned(n) {
			continue
		}
		f := field(n)
		if example == nil {
			example = f
		}
		s.add(f.Ref)
		f.State = inspection.Wrong
	}
	if example == nil {
		return
	}
	name := strings.TrimSuffix(header, " %")
	message := fmt.Sprintf("%s %s: a fraction or a percentage?", name, example.Text)
	if c.tally.shown > 0 {
		message = fmt.Sprintf("%s %s beside %s", name, example.Text, plainText(c.tally.shown))
	}
	t.hit(s.hit(finding.Hit{
		Rule: "C110", Column: header, Value: example.Text, Message: message,
		Do: fmt.Sprintf("Write %s if it is that, else %s %%.", plainText(100*float64(example.Value)), example.Text),
	}))
}

// mixedCoverage finds plates whose plain shares add up to 1 in place of 100.
func (t *table) mixedCoverage(plates []inspection.Plate) {
	small := map[int]int{}
	for i := range t.columns {
		for _, n := range t.columns[i].tally.small {
			small[n]++
		}
	}
	rows := map[string]*spots{}
	example := map[string]*inspection.Percent{}
	names := []string{"MFL scanned %", "Hand scanned %", "UT gridded %", "Not examined %"}
	for n := range plates {
		p := &plates[n]
		shares := []*inspection.Percent{&p.MFLScanned, &p.HandScanned, &p.UTGridded, &p.NotExamined}
		sum, given := 0.0, 0
		for _, f := range shares {
			if f.OK() && f.Value != 0 {
				sum += float64(f.Value)
				given++
			}
		}
		if given == 0 || given != small[n] || sum < 0.98-1e-9 || sum > 1.02+1e-9 {
			continue
		}
		for i, f := range shares {
			if !f.OK() || f.Value == 0 {
				continue
			}
			if rows[names[i]] == nil {
				rows[names[i]], example[names[i]] = &spots{}, f
			}
			rows[names[i]].add(f.Ref)
			f.State = inspection.Wrong
		}
	}
	for _, name := range names {
		if s := rows[name]; s != nil {
			f := example[name]
			t.hit(s.hit(finding.Hit{
				Rule: "C110", Column: name, Value: f.Text,
				Message: fmt.Sprintf("%s %s on a plate whose shares add up to 1", strings.TrimSuffix(name, " %"), f.Text),
				Do:      fmt.Sprintf("Write %s.", plainText(100*float64(f.Value))),
			}))
		}
	}
}
