package workbook

import (
	"platebook/workbook/xlsx"
)

// writeSensitivity says what would change page one's interval: each row is a
// calculation of its own with one input changed, so its interval is a number;
// the difference is live.
func (rs *results) writeSensitivity(s *xlsx.NewSheet) {
	res := rs.a.Result
	base := res.State(res.PageOne)
	changes := rs.a.Sensitivity()
	if base == nil || !base.Interval.Known || len(changes) == 0 {
		return
	}
	adopted := "interval.adopted." + res.PageOne.String()
	whole := xlsx.Number(float64(base.Interval.V), xlsx.Fixed2)
	if st := res.Steps.Find(adopted); st != nil && st.Known && close9(st.Value, float64(base.Interval.V)) {
		whole = xlsx.Live(rs.cells[adopted], float64(base.Interval.V), xlsx.Fixed2)
	}
	s.FitRow(xlsx.Text("What would change the interval, "+res.PageOne.Words(), xlsx.Header), xlsx.Text("By", xlsx.Header), xlsx.Text("Interval (years)", xlsx.Header), xlsx.Text("Difference (years)", xlsx.Header))
	row := s.Row(xlsx.Text("As it is", xlsx.Normal), xlsx.Text("", xlsx.Normal), whole)
	for _, c := range changes {
		interval, difference := notKnown(), notKnown()
		if c.Interval.Known {
			interval = xlsx.Number(float64(c.Interval.V), xlsx.Fixed2)
			difference = xlsx.Live(here(3, s.Next())+"-"+here(3, row), float64(c.Interval.V-base.Interval.V), xlsx.Fixed2)
		}
		s.Row(xlsx.Text(sentence(c.Input), xlsx.Normal), xlsx.Text(c.Change, xlsx.Normal), interval, difference)
	}
	s.Row(xlsx.Text("One input at a time, the others as they are, within the limits on the interval.", xlsx.Quiet))
	s.Skip(1)
}
