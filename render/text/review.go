package text

import (
	"io"

	"platebook/rules"
	"platebook/rules/review"
)

type reviewPart struct {
	Differs     bool             `json:"differs"`
	Compared    int              `json:"compared"`
	Unstored    int              `json:"unstored"`
	Unseen      int              `json:"photos_not_seen"`
	Differences []differencePart `json:"differences"`
	Inputs      inputsPart       `json:"inputs"`
	Versions    []versionPart    `json:"versions"`
	Answers     []string         `json:"answers_not_counting"`
	Since       []string         `json:"answers_since"`
	Seed        string           `json:"seed"`
	Sample      []samplePart     `json:"sample"`
	Against     *againstPart     `json:"against"`
}

type differencePart struct {
	Sheet      string   `json:"sheet"`
	Cell       words    `json:"cell"`
	What       string   `json:"what"`
	Stored     string   `json:"stored"`
	Recomputed string   `json:"recomputed"`
	Inputs     []string `json:"inputs"`
	More       int      `json:"more_inputs"`
}

type inputsPart struct {
	Changed bool     `json:"changed"`
	Then    words    `json:"values_sha256_then"`
	Now     words    `json:"values_sha256_now"`
	Sheets  []string `json:"sheets"`
	Cells   int      `json:"cells"`
	Gone    int      `json:"cells_in_rows_gone"`
	Places  []string `json:"places"`
	Moved   []string `json:"sheets_with_moved_rows"`
	Untold  []string `json:"sheets_not_told_by_cell"`
}

type versionPart struct {
	What string `json:"what"`
	Then string `json:"then"`
	Now  string `json:"now"`
}

type samplePart struct {
	Sheet   string   `json:"sheet"`
	Cell    string   `json:"cell"`
	What    string   `json:"what"`
	Stored  string   `json:"stored"`
	Formula string   `json:"formula"`
	Inputs  []string `json:"inputs"`
	More    int      `json:"more_inputs"`
}

type againstPart struct {
	Other   string        `json:"file"`
	Changes []revisedPart `json:"changes"`
	Groups  []groupPart   `json:"groups"`
	Alike   int           `json:"cells_same_in_other_units"`
	Made    bool          `json:"has_results"`
	Then    []versionPart `json:"versions"`
	Edited  bool          `json:"inputs_changed"`
	Answers []string      `json:"answers_not_counting"`
}

type revisedPart struct {
	Here  words  `json:"here"`
	There words  `json:"there"`
	What  string `json:"what"`
	Old   string `json:"old"`
	New   string `json:"new"`
}

type groupPart struct {
	Result  string `json:"result"`
	Old     string `json:"old"`
	New     string `json:"new"`
	Changes []int  `json:"changes"`
}

// ReviewJSON writes the document of an assessment with its review.
func ReviewJSON(w io.Writer, a *rules.Assessment, r *review.Review, p Program, outputs Outputs, indent bool) error {
	d := newDocument(a, p, outputs, false)
	d.Review = reviewOf(r)
	return d.write(w, indent)
}

// list is never null in JSON.
func list(s []string) []string {
	if s == nil {
		return []string{}
	}
	return s
}

func reviewOf(r *review.Review) *reviewPart {
	p := &reviewPart{
		Differs: r.Differs(), Compared: r.Compared, Unstored: r.Unstored, Unseen: r.Unseen, Differences: []differencePart{}, Versions: []versionPart{}, Answers: []string{},
		Since: list(r.Since), Seed: r.Seed, Sample: []samplePart{},
		Inputs: inputsPart{r.Inputs.Changed(), words(r.Inputs.Recorded), words(r.Inputs.Now), list(r.Inputs.Sheets), r.Inputs.Cells, r.Inputs.Gone, []string{}, list(r.Inputs.Elsewhere), list(r.Inputs.Untold)},
	}
	for _, ref := range r.Inputs.Places {
		p.Inputs.Places = append(p.Inputs.Places, ref.String())
	}
	for _, d := range r.Differences {
		p.Differences = append(p.Differences, differencePart{d.Ref.Sheet, words(d.Ref.Cell()), d.What, d.Stored, d.Recomputed, list(d.Inputs), d.More})
	}
	for _, v := range r.Versions {
		p.Versions = append(p.Versions, versionPart{v.What, v.Stored, v.Now})
	}
	for _, f := range r.Answers {
		p.Answers = append(p.Answers, f.Key)
	}
	for _, s := range r.Sample {
		p.Sample = append(p.Sample, samplePart{s.Ref.Sheet, s.Ref.Cell(), s.What, s.Stored, s.Formula, list(s.Inputs), s.More})
	}
	if g := r.Against; g != nil {
		p.Against = &againstPart{Other: g.Other, Alike: g.Alike, Made: g.Made, Then: []versionPart{}, Edited: g.Edited, Answers: []string{}, Changes: []revisedPart{}, Groups: []groupPart{}}
		for _, v := range g.Versions {
			p.Against.Then = append(p.Against.Then, versionPart{v.What, v.Stored, v.Now})
		}
		for _, f := range g.Answers {
			p.Against.Answers = append(p.Against.Answers, f.Key)
		}
		for _, c := range g.Changes {
			p.Against.Changes = append(p.Against.Changes, revisedPart{words(c.Ref.String()), words(c.Was.String()), c.What, c.Old, c.New})
		}
		for _, x := range g.Groups {
			p.Against.Groups = append(p.Against.Groups, groupPart{x.Result, x.Old, x.New, append([]int{}, x.Changes...)})
		}
	}
	return p
}
