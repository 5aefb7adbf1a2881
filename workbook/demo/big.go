package demo

import (
	"fmt"
	"math"
	"strconv"

	"platebook/rules/unit"
	"platebook/workbook/form"
)

// Big is a large invented workbook for load tests, with at least the given
// number of plates and exactly the given numbers of the rest. More prove-ups
// than indications stand alone. It has no mistakes on purpose, but nobody has
// made it look like a real floor.
func Big(plates, indications, proveUps, photos int) (Book, error) {
	const length, width, lap = 6096.0, 1828.8, 50.8
	across := math.Ceil(2*math.Sqrt(float64(max(plates, 4))*(length-lap)*(width-lap)*0.92/math.Pi)/100) * 100
	across = min(150_000, max(length, across))
	seq := sequence(31)
	floor, err := layFloor(form.Options{Diameter: unit.Length(across), PlateLength: length, PlateWidth: width, Lap: lap}, &seq)
	if err != nil {
		return Book{}, err
	}
	if len(floor) < plates {
		return Book{}, fmt.Errorf("%d plates do not fit into a tank of 150 m: %d do", plates, len(floor))
	}
	s := &scenario{plates: floor, seq: seq}
	s.scatter(indications, across/2)
	b := Book{Book: form.Book{Title: "Invented workbook for load tests", Rows: form.Entries{
		"Guide":       {{"Subtitle": "An invented workbook for load tests: no real tank, site, firm or person."}},
		"Tank":        {s.bigTank(across)},
		"Plates":      s.bigPlateRows(),
		"Indications": s.indicationRows(),
		"Prove-ups":   s.bigProveUpRows(proveUps, across/2),
	}}}
	var rows []form.Record
	for n := range photos {
		name := fmt.Sprintf("load-%04d.jpg", n+1)
		b.Photos = append(b.Photos, Photo{Name: name, draw: func() []byte {
			return drawPhoto(uint64(n), pitted, []hollow{{320, 240, 50 + n%40, 40 + n%30, 140}}, strconv.Itoa(n+1))
		}})
		r := form.Record{"File": name, "Caption": "Picture " + strconv.Itoa(n+1)}
		if n < len(s.pits) {
			r["Plate"], r["Indication"] = s.pits[n].plate.Label, s.pits[n].id
		}
		rows = append(rows, r)
	}
	b.Rows["Photos"] = rows
	return b, nil
}

// scatter spreads indications over the plates, as many on each as its share
// of the places drawn.
func (s *scenario) scatter(count int, rim float64) {
	for len(s.pits) < count {
		p, x, y := at(s.plates, rim, rim, s.seq.between(-rim, rim), s.seq.between(-rim, rim))
		if p == nil {
			continue
		}
		deep := s.seq.share()
		q := &pit{
			plate: p, x: x, y: y, length: s.seq.between(15, 60), width: s.seq.between(15, 50),
			side: []string{"soil", "product", "soil"}[len(s.pits)%3], method: "MFL", kind: "pit", depth: p.nominal * (0.18 + 0.3*deep*deep*deep),
		}
		q.estimate(&s.seq)
		p.pits = append(p.pits, q)
		s.pits = append(s.pits, q)
	}
	s.pits = number(s.plates)
	for i, q := range s.pits {
		q.id, q.by, q.date = strconv.Itoa(i+1), "J. Roe", day(22)
	}
}

func (s *scenario) bigTank(across float64) form.Record {
	r := s.tank()
	r["Tank"], r["Report number"] = "Load test", "EX-2026-900"
	r["Diameter"], r["Maximum fill height"], r["Shell height"] = across, 12_000.0, 14_000.0
	r["Lap"] = 50.8
	r["Annular ring"] = "no"
	for _, item := range []string{"Annular nominal thickness", "Annular width inside the shell"} {
		delete(r, item)
	}
	return r
}

func (s *scenario) bigPlateRows() []form.Record {
	var rows []form.Record
	for _, p := range s.plates {
		rows = append(rows, form.Record{
			"Plate": p.Label, "Type": p.Type, "Row": strconv.Itoa(p.Row), "Position": strconv.Itoa(p.Position), "Length": p.Length, "Width": p.Width,
			"MFL scanned %": 94.0, "Hand scanned %": 5.0, "UT gridded %": 0.0, "Not examined %": 1.0,
			"Scanned by": "J. Roe", "Scan date": day(22), "Instrument": "MFL-1",
		})
	}
	return rows
}

// bigProveUpRows proves up the indications with the largest estimates first:
// all that need it when there are enough prove-ups.
func (s *scenario) bigProveUpRows(count int, rim float64) []form.Record {
	var rows []form.Record
	add := func(q *pit, tied bool) {
		r := form.Record{
			"ID": "U" + strconv.Itoa(len(rows)+1), "Plate": q.plate.Label, "X": s.position(q.x), "Y": s.position(q.y),
			"Remaining": s.thickness(q.remaining() + s.seq.between(-0.05, 0.05)), "Sound thickness": s.thickness(q.plate.sound), "Side": q.side,
			"By": "A. Day", "Date": day(24), "Instrument": "UT-1",
		}
		if tied {
			r["Indication"] = q.id
		}
		rows = append(rows, r)
	}
	for _, needed := range []bool{true, false} {
		for _, q := range s.pits {
			if len(rows) < count && (q.loss >= 40) == needed {
				add(q, true)
			}
		}
	}
	for len(rows) < count {
		p, x, y := at(s.plates, rim, rim, s.seq.between(-rim, rim), s.seq.between(-rim, rim))
		if p != nil {
			add(&pit{plate: p, x: x, y: y, side: "soil", depth: 0.5}, false)
		}
	}
	return rows
}
