package assess

import "platebook/rules/unit"

// readAlone is the interval that what was read would give by itself, where no
// rate counts as known for the whole floor and the limit for that case is the
// longer one: less examined must not look like more time. It is told beside
// the limit and takes nothing's place.
func (w *work) readAlone(s *state) unit.Maybe[unit.Years] {
	rates := s.rates
	if rates.unknown == "" || !s.out.Interval.Known {
		return unit.Maybe[unit.Years]{}
	}
	rates.unknown = ""
	rates.byPlate = nil
	for _, b := range s.rates.byPlate {
		b.unknown = ""
		rates.byPlate = append(rates.byPlate, b)
	}
	if !rates.known() {
		return unit.Maybe[unit.Years]{}
	}
	alone := w.evaluate(s.is, s.counted, s.zoned, rates).out.Interval
	if !alone.Known || alone.V >= s.out.Interval.V-1e-9 {
		return unit.Maybe[unit.Years]{}
	}
	return alone
}
