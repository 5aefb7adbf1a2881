package repair

import (
	"math"
	"sort"

	"platebook/rules/assess"
	"platebook/rules/floor"
)

// shortened splits tombstones that are too long for the critical zone where
// enough clear metal stays between the parts, else gives the plate up.
func (s *shop) shortened(list []*patch, ls []assess.Location) []*patch {
	var out []*patch
	for _, p := range list {
		if !p.tombstone || p.box.Length() <= s.z.longest+fine {
			out = append(out, p)
			continue
		}
		if parts := s.split(p, ls); parts != nil {
			out = append(out, parts...)
			continue
		}
		gone := *p // others may hold on to p
		gone.replace = tooLong
		out = append(out, &gone)
	}
	return out
}

// split parts a tombstone at the widest gaps between its members.
func (s *shop) split(p *patch, ls []assess.Location) []*patch {
	type member struct {
		i   int
		box floor.Box
	}
	var ms []member
	for _, i := range p.members() {
		b, ok := s.carried(ls[i].Plate, ls[i].Box, p.frame)
		if !ok {
			return nil
		}
		ms = append(ms, member{i, b})
	}
	sort.SliceStable(ms, func(a, b int) bool { return ms[a].box.U1 < ms[b].box.U1 })
	const mostParts = 6
	for n := 2; n <= min(len(ms), mostParts); n++ {
		cuts := make([]int, 0, len(ms))
		for i := 1; i < len(ms); i++ {
			cuts = append(cuts, i)
		}
		open := func(i int) float64 { return ms[i].box.U1 - ms[i-1].box.U2 }
		sort.SliceStable(cuts, func(a, b int) bool { return open(cuts[a]) > open(cuts[b]) })
		cuts = cuts[:n-1]
		sort.Ints(cuts)
		var parts []*patch
		from := 0
		for _, to := range append(cuts, len(ms)) {
			q := &patch{plate: ls[ms[from].i].Plate}
			for k := from; k < to; k++ {
				raw, ok := s.carried(ls[ms[k].i].Plate, ls[ms[k].i].Box, q.plate)
				if !ok {
					return nil
				}
				if k == from {
					q.raw = raw
				}
				q.raw = q.raw.Join(raw)
				q.locations = append(q.locations, ms[k].i)
			}
			sort.Ints(q.locations)
			q.least = q.locations[0]
			s.shape(q)
			parts = append(parts, q)
			from = to
		}
		if s.standApart(parts) {
			return parts
		}
	}
	return nil
}

// standApart says whether parts of a split keep the length and the clear metal
// of the critical zone: half the lesser dimension between neighbours.
func (s *shop) standApart(parts []*patch) bool {
	for i, p := range parts {
		if !p.tombstone || p.unsettled || p.box.Length() > s.z.longest+fine {
			return false
		}
		for _, q := range parts[:i] {
			d, ok := s.apart(p, q)
			lesser := math.Min(math.Min(p.box.Length(), p.box.Width()), math.Min(q.box.Length(), q.box.Width()))
			if !ok || d < lesser/2-fine {
				return false
			}
		}
	}
	return true
}
