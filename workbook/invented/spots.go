package invented

import (
	"math"
	"strconv"

	"platebook/rules/unit"
)

// apart keeps indications from meeting by chance; pairs are made on purpose.
const apart = 250

func (t *Tank) nominal(p Row) float64 {
	if p.Word("Type") == "annular" {
		return p.Or("Nominal", t.Items.Number("Annular nominal thickness"))
	}
	return p.Or("Nominal", t.Items.Number("Nominal thickness"))
}

// spot is a free place on a plate of the floor.
func (t *Tank) spot(d dice, plan *Plan, taken [][2]float64) (p Row, x, y float64, ok bool) {
	for range 60 {
		p = pick(d, t.Plates...)
		x, y = float64(50+d.IntN(int(p.Number("Length"))-100)), float64(30+d.IntN(int(p.Number("Width"))-60))
		px, py, placed := plan.At(p.Word("Plate"), x, y)
		if !placed {
			return p, x, y, true // in the sump
		}
		if p.Word("Type") != "annular" && math.Hypot(px, py) > plan.Rim-1 {
			continue
		}
		free := !plan.open(px, py)
		for _, q := range taken {
			free = free && math.Hypot(px-q[0], py-q[1]) > apart
		}
		if free {
			return p, x, y, true
		}
	}
	return nil, 0, 0, false
}

func (t *Tank) spots(d dice) {
	plan := Lay(t)
	var taken [][2]float64
	take := func(p Row, x, y float64) {
		if px, py, ok := plan.At(p.Word("Plate"), x, y); ok {
			taken = append(taken, [2]float64{px, py})
		}
	}
	wanted := pick(d, 0, 3, 10, 30, 60, 120)
	for len(t.Indications) < wanted {
		p, x, y, ok := t.spot(d, plan, taken)
		if !ok {
			return
		}
		take(p, x, y)
		if d.chance(0.06) && p.Word("Type") != "sump" {
			t.over(d, p, x, y)
			continue
		}
		t.indication(d, p, x, y)
	}
	for range d.IntN(4) { // prove-ups that stand alone
		p, x, y, ok := t.spot(d, plan, taken)
		if !ok {
			return
		}
		take(p, x, y)
		u := Row{"ID": "V" + strconv.Itoa(len(t.ProveUps)+1), "Plate": p.Word("Plate"), "X": x, "Y": y, "Side": pick(d, "soil", "product")}
		t.measure(d, u, t.nominal(p)*(0.55+0.4*d.Float64()), t.nominal(p))
		t.ProveUps = append(t.ProveUps, u)
	}
}

func (t *Tank) indication(d dice, p Row, x, y float64) {
	i := Row{
		"ID": strconv.Itoa(len(t.Indications) + 1), "Plate": p.Word("Plate"), "X": x, "Y": y,
		"Side": pick(d, "soil", "soil", "product", "unknown"), "Method": pick(d, "MFL", "MFL", "MFL", "hand scan", "visual", "UT"),
	}
	if i.Word("Side") == "soil" && i.Word("Method") == "visual" {
		i["Method"] = "MFL"
	}
	if d.chance(0.6) {
		i["Length"], i["Width"] = float64(10+d.IntN(70)), float64(10+d.IntN(50))
	}
	if d.chance(0.6) {
		i["Kind"] = pick(d, "pit", "pit", "cluster", "mechanical", "not relevant", "general")
	}
	if (i.Word("Kind") == "cluster" || i.Word("Kind") == "general") && !i.Has("Length") {
		i["Length"], i["Width"] = 40.0, 40.0
	}
	loss := float64(pick(d, 22, 25, 30, 35, 38))
	if d.chance(0.3) {
		loss = float64(41 + d.IntN(34))
	}
	nominal := t.nominal(p)
	switch i.Word("Method") {
	case "visual":
		switch pick(d, 0, 1, 2) {
		case 0:
			i["Loss %"] = loss
		case 1:
			i["Remaining"] = round(nominal*(1-loss/100), 2)
		default:
			i["Depth"] = round(nominal*loss/100, 2)
		}
	case "UT":
		i["Remaining"] = round(nominal*(1-loss/100), 2)
	default:
		i["Loss %"] = loss
		if d.chance(0.1) {
			i["Remaining"] = round(nominal*(1-(loss-1)/100), 2)
		}
	}
	t.Indications = append(t.Indications, i)
	if i.Word("Kind") == "not relevant" || i.Word("Method") == "UT" || (loss < 40 && d.chance(0.6)) {
		return
	}
	u := Row{"ID": "U" + strconv.Itoa(len(t.ProveUps)+1), "Plate": i.Word("Plate"), "X": x, "Y": y, "Side": i.Word("Side")}
	if d.chance(0.85) {
		u["Indication"] = i.Word("ID")
	}
	t.measure(d, u, nominal*(1-max(5, loss-12+24*d.Float64())/100), nominal)
	t.ProveUps = append(t.ProveUps, u)
}

// measure puts what a probe or gauge found into a prove-up.
func (t *Tank) measure(d dice, u Row, real, nominal float64) {
	if u.Word("Side") == "product" && d.chance(0.5) {
		u["Depth"] = round(nominal-real, 2)
		if d.chance(0.3) {
			u["Remaining"] = round(real+0.1, 2)
		}
	} else {
		u["Remaining"] = round(real, 2)
	}
	if d.chance(0.6) {
		u["Sound thickness"] = round(nominal-0.3+0.5*d.Float64(), 2)
	}
}

// over is a product pit over a soil pit.
func (t *Tank) over(d dice, p Row, x, y float64) {
	nominal, label := t.nominal(p), p.Word("Plate")
	id := func() string { return strconv.Itoa(len(t.Indications) + 1) }
	below := Row{"ID": id(), "Plate": label, "X": x, "Y": y, "Side": "soil", "Method": "MFL", "Loss %": float64(pick(d, 22, 30, 35)), "Length": 40.0, "Width": 40.0}
	t.Indications = append(t.Indications, below)
	above := Row{
		"ID": id(), "Plate": label, "X": x + float64(pick(d, 0, 5, 20)), "Y": y, "Side": "product", "Method": "visual",
		"Depth": round(nominal*pick(d, 0.1, 0.15, 0.2), 2), "Length": 30.0, "Width": 30.0,
	}
	t.Indications = append(t.Indications, above)
	prove := func(u Row) {
		u["ID"] = "U" + strconv.Itoa(len(t.ProveUps)+1)
		u["Plate"] = label
		t.ProveUps = append(t.ProveUps, u)
	}
	if d.chance(0.5) {
		prove(Row{"Indication": above.Word("ID"), "X": above.Number("X"), "Y": y, "Depth": round(above.Number("Depth")+0.05, 2), "Side": "product", "Sound thickness": round(nominal-0.05, 2)})
	}
	if d.chance(0.4) { // in both boxes or, outside the product pit's, in one
		at := pick(d, x+5, x-15)
		prove(Row{"Indication": below.Word("ID"), "X": at, "Y": y, "Remaining": round(nominal*0.55, 2), "Side": "soil"})
	}
}

func (t *Tank) patches(d dice) {
	if !d.chance(0.35) {
		return
	}
	plan := Lay(t)
	for k := range 1 + d.IntN(3) {
		p := pick(d, t.Plates...)
		x, y := p.Number("Length")/2, p.Number("Width")/2
		px, py, placed := plan.At(p.Word("Plate"), x, y)
		if !placed || p.Word("Type") == "annular" || math.Hypot(px, py) > plan.Rim-400 {
			continue
		}
		q := Row{"Patch": "P" + strconv.Itoa(k+1), "Plate": p.Word("Plate"), "X": x, "Y": y, "Length": pick(d, 400.0, 600), "Width": 400.0}
		taken := false
		for _, other := range t.Patches {
			taken = taken || other.Word("Plate") == q.Word("Plate")
		}
		for _, o := range plan.Openings {
			taken = taken || (px > o.X1-500 && px < o.X2+500 && py > o.Y1-500 && py < o.Y2+500)
		}
		if taken {
			continue
		}
		if d.chance(0.6) {
			q["Thickness"] = pick(d, 6.0, 6.35, 8.0, 5.0)
		}
		if age := t.Items.Day("Inspection end") - t.Items.Day("Floor installed"); d.chance(0.7) && age > 2600 {
			q["Installed"] = t.Items.Day("Inspection end") - unit.Date(pick(d, 800, 2500))
		}
		t.Patches = append(t.Patches, q)
	}
}

func (t *Tank) readings(d dice) {
	plan := Lay(t)
	if d.chance(0.06) {
		return
	}
	for _, p := range t.Plates {
		if !d.chance(0.6) {
			continue
		}
		for range 1 + d.IntN(3) {
			r := Row{"Plate": p.Word("Plate"), "Thickness": round(t.nominal(p)-0.5+0.65*d.Float64(), 2)}
			x, y := round(d.Float64()*p.Number("Length"), 0), round(d.Float64()*p.Number("Width"), 0)
			px, py, placed := plan.At(p.Word("Plate"), x, y)
			if (!placed || p.Word("Type") == "annular" || math.Hypot(px, py) < plan.Rim) && !plan.open(px, py) {
				r["X"], r["Y"] = x, y
			}
			t.Readings = append(t.Readings, r)
		}
	}
}

// planned are repairs somebody decided on.
func (t *Tank) planned(d dice) {
	if len(t.Indications) == 0 || !d.chance(0.5) {
		return
	}
	if d.chance(0.4) {
		t.Criteria["Rate after repair"] = "recomputed"
	}
	if d.chance(0.3) {
		t.Criteria["Soil-side cause removed"] = "yes"
	}
	if d.chance(0.15) {
		t.Criteria["Product-side cause removed"] = "yes"
	}
	done := d.chance(0.25) // everything carried out
	replaced := map[string]bool{}
	for range 1 + d.IntN(12) {
		i := pick(d, t.Indications...)
		label := i.Word("Plate")
		p := t.Plate(label)
		if replaced[label] || p.Word("Type") == "annular" || p.Word("Type") == "sump" {
			continue
		}
		q := Row{"Repair": "R" + strconv.Itoa(len(t.Repairs)+1), "Plate": label, "Status": pick(d, "planned", "completed")}
		if done {
			q["Status"] = "completed"
		}
		switch {
		case d.chance(0.2):
			q["Kind"], replaced[label] = "replace plate", true
		case d.chance(0.15) && i.Word("Side") == "product":
			q["Kind"] = "weld build-up"
			q["X"], q["Y"], q["Length"], q["Width"] = i.Number("X"), i.Number("Y"), 250.0, 250.0
		default:
			q["Kind"], q["Shape"] = "patch", "rounded rectangle"
			q["X"], q["Y"], q["Length"], q["Width"] = i.Number("X"), i.Number("Y"), pick(d, 250.0, 400), pick(d, 250.0, 400)
		}
		if d.chance(0.5) && q.Word("Kind") != "weld build-up" {
			q["Thickness"] = pick(d, 6.35, 8.0)
		}
		if q.Word("Status") == "completed" {
			q["Completed"], q["Retest"] = t.Items.Day("Inspection end"), "vacuum box"
		}
		t.Repairs = append(t.Repairs, q)
	}
}

// survey is a settlement survey.
func (t *Tank) survey(d dice) {
	if !d.chance(0.4) {
		return
	}
	n := pick(d, 8, 12, 16, 20, 24)
	tilt, phase := 40*d.Float64(), 360*d.Float64()
	for i := range n {
		bearing := round(float64(i)*360/float64(n)+2*d.Float64(), 1)
		t.Settlement = append(t.Settlement, Row{
			"Kind": "shell", "Point": strconv.Itoa(i + 1), "Bearing": bearing,
			"Elevation": round(100+tilt*math.Cos((bearing-phase)*math.Pi/180)+6*d.Float64(), 1),
		})
	}
	for i := range d.IntN(4) {
		t.Settlement = append(t.Settlement, Row{
			"Kind": "edge", "Point": "E" + strconv.Itoa(i+1), "Bearing": round(360*d.Float64(), 0), "Radius": pick(d, 900.0, 1200, 600),
			"Measured": round(20+100*d.Float64(), 1), "Weld angle": pick(d, 0.0, 20, 30, 45, 90),
		})
	}
	for i := range d.IntN(3) {
		t.Settlement = append(t.Settlement, Row{
			"Kind": pick(d, "bulge", "depression"), "Point": "B" + strconv.Itoa(i+1), "Bearing": round(360*d.Float64(), 0),
			"Radius": pick(d, 400.0, 1000, 2000), "Measured": round(5+60*d.Float64(), 1),
		})
	}
}
