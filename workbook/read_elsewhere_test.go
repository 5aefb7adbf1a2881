package workbook

import "testing"

func TestTextsOfAnotherJob(t *testing.T) {
	job := jobNames{report: "TF-2026-014", previous: "TF-2014-003", tank: "T-07"}
	for _, c := range []struct{ text, want string }{
		{"Report TF-2026-014, page 1", ""},
		{"Report tf-2026-14", ""},
		{"Follows TF-2014-003", ""},
		{"Report TF-2025-009", "footer says TF-2025-009; this is TF-2026-014"},
		{"Tank 7", ""},
		{"Tank no. T-7", ""},
		{"Tank 12", "footer says Tank 12; this is T-07"},
		{"Tank floor inspection", ""},
		{"API 653", ""},
	} {
		if got := job.other("footer", c.text); got != c.want {
			t.Errorf("%q: %q, want %q", c.text, got, c.want)
		}
	}
	if got := (jobNames{report: "R-1", tank: "East"}).other("footer", "R-2 of Tank 4"); got != "" {
		t.Errorf("a short number has no shape: %q", got)
	}
}

func TestSheetNameOfAnotherTank(t *testing.T) {
	said{
		"sheet name",
		[]string{"= Readings", "= Tank 12\nwho | when\n= Readings"},
		"Q602 Tank 12: sheet name says Tank 12; this is T-7\nS105: not read: Tank 12",
	}.run(t)
}
