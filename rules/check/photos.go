package check

import (
	"fmt"
	"slices"
	"strings"

	"platebook/rules/finding"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// Picture is what is known of a picture file that the workbook cites.
type Picture struct {
	Found    bool
	Readable bool      // a JPEG, PNG or HEIC that can be opened
	Taken    unit.Date // by the camera, 0 when it does not say

	Why, Do string // why it is not printed, to be read behind its name, and what to do; "" when not known
}

// fault is what stands against printing it and what to do, "" for nothing.
func (p Picture) fault() (why, do string) {
	switch {
	case p.Found && p.Readable:
		return "", ""
	case p.Why != "":
		return p.Why, p.Do
	case p.Found:
		return "is no readable JPEG, PNG or HEIC", doSavePicture
	}
	return "not found", ""
}

// Photos knows the picture files beside the workbook.
type Photos interface {
	// Picture finds a file as the workbook names it: beside the workbook or in
	// its photos folder.
	Picture(name string) Picture
	// Folder is the names of the pictures in the photos folder, in order.
	Folder() []string
}

// OfPictures are the rules that need sight of the files.
var OfPictures = []string{"R109", "R110", "R112"}

// cited is one place that names a picture.
type cited struct {
	kind, column string
	row          *inspection.Row
	file         string
	ref          finding.Ref
	plate        int
}

// pictures is every place that names a picture.
func (j *judge) pictures() []cited {
	var all []cited
	add := func(kind, column string, row *inspection.Row, f inspection.Text, plate int, several bool) {
		if !f.OK() {
			return
		}
		names := []string{f.Value}
		if several {
			names = strings.FieldsFunc(f.Value, func(r rune) bool { return r == ';' || r == ',' })
		}
		for _, n := range names {
			if n = strings.TrimSpace(n); n != "" {
				all = append(all, cited{kind, column, row, n, f.Ref, plate})
			}
		}
	}
	for i := range j.in.Photos {
		r := &j.in.Photos[i]
		add("Photos", "File", &r.Row, r.File, j.plate(r.Plate), false)
	}
	for i := range j.in.Indications {
		r := &j.in.Indications[i]
		add("Indications", "Photo", &r.Row, r.Photo, j.plate(r.Plate), true)
	}
	for i := range j.in.Visual {
		r := &j.in.Visual[i]
		add("Visual", "Photo", &r.Row, r.Photo, j.plate(r.Plate), true)
	}
	for i := range j.in.Welds {
		add("Welds", "Photo", &j.in.Welds[i].Row, j.in.Welds[i].Photo, -1, true)
	}
	return all
}

// doSavePicture is what to do with a picture that cannot be read (R109).
const doSavePicture = "Save it as JPEG, PNG or HEIC."

// photos judges the pictures cited (R109, R110, R112). Without sight of the
// files only what the rows say of each other is judged.
func (j *judge) photos(files Photos) {
	all := j.pictures()
	byFile := make(map[string][]cited)
	var order []string
	for _, c := range all {
		f := pictureName(c.file)
		if byFile[f] == nil {
			order = append(order, f)
		}
		byFile[f] = append(byFile[f], c)
	}
	odd := make(map[string]string) // by camera date
	dated := 0
	for _, f := range order {
		group := byFile[f]
		if files != nil {
			p := files.Picture(group[0].file)
			if why, do := p.fault(); why != "" {
				h := pictureHit("R109", group, "%s %s", group[0].file, why)
				h.Do = do
				j.put(h)
				continue
			}
			if p.Taken != 0 {
				dated++
				if why := j.takenOddly(p.Taken); why != "" {
					odd[f] = why
				}
			}
		}
		if a, b, ok := twoPlates(group); ok {
			h := pictureHit("R110", group, "%s stands on %s and on %s", group[0].file, j.in.Plates[a].Label.Text, j.in.Plates[b].Label.Text)
			j.put(h)
			delete(odd, f)
		}
	}
	if len(odd) > 1 && 2*len(odd) > dated {
		h := finding.Hit{Rule: "R110", Kind: "Photos", Subject: "*", Ref: finding.Ref{Sheet: j.sheetName("Photos")}}
		for _, f := range order {
			if why, ok := odd[f]; ok {
				if h.Message == "" {
					h.Message = fmt.Sprintf("%d of %d photos: camera dates are off, %s %s", len(odd), dated, byFile[f][0].file, why)
				}
				h.Related = append(h.Related, see("", byFile[f][0].ref)...)
			}
		}
		j.put(h)
	} else {
		for _, f := range order {
			if why, ok := odd[f]; ok {
				j.put(pictureHit("R110", byFile[f], "%s %s", byFile[f][0].file, why))
			}
		}
	}
	if files == nil {
		return
	}
	if logo := j.in.Tank.Logo; logo.OK() {
		if why, do := files.Picture(logo.Value).fault(); why != "" {
			h := j.onItem("R109", logo.Value, logo.Ref, logo.Text, "%s %s", logo.Text, why)
			h.Do = do
			h.Row = "Logo"
			j.put(h)
		}
	}
	var uncited []string
	logo := pictureName(j.in.Tank.Logo.Or(""))
	for _, name := range files.Folder() {
		if f := pictureName(name); byFile[f] == nil && f != logo {
			uncited = append(uncited, name)
		}
	}
	if n := len(uncited); n > 0 {
		shown := strings.Join(uncited[:min(n, 5)], ", ")
		if n > 5 {
			shown += fmt.Sprintf(" and %d more", n-5)
		}
		j.put(finding.Hit{Rule: "R112", Message: fmt.Sprintf("in the photos folder, on no row: %s", shown), Cells: n})
	}
}

// pictureName makes names of one file comparable: without the folder photos,
// without case.
func pictureName(name string) string {
	n := strings.ToLower(strings.ReplaceAll(strings.TrimSpace(name), "\\", "/"))
	n = strings.TrimPrefix(n, "./")
	return strings.TrimPrefix(n, "photos/")
}

func (j *judge) takenOddly(taken unit.Date) string {
	t := &j.in.Tank
	switch {
	case t.InspectionStart.OK() && taken < t.InspectionStart.Value-2:
		return fmt.Sprintf("taken %s, inspection from %s", taken, t.InspectionStart.Value)
	case t.ReportDate.OK() && taken > t.ReportDate.Value:
		return fmt.Sprintf("taken %s, report %s", taken, t.ReportDate.Value)
	}
	return ""
}

func twoPlates(group []cited) (a, b int, ok bool) {
	a = -1
	for _, c := range group {
		switch {
		case c.plate < 0:
		case a < 0:
			a = c.plate
		case c.plate != a:
			return a, c.plate, true
		}
	}
	return 0, 0, false
}

func pictureHit(rule string, group []cited, format string, args ...any) finding.Hit {
	c := group[0]
	h := onRow(rule, c.kind, c.row, c.ref, c.ref, c.file, format, args...)
	h.Subject, h.Column = c.file, c.column
	var refs []finding.Ref
	for _, o := range group[1:] {
		if !slices.Contains(refs, o.ref) {
			refs = append(refs, o.ref)
		}
	}
	h.Related = see("", refs...)
	return h
}
