package check

import (
	"flag"
	"os"
	"testing"
)

var update = flag.Bool("update", false, "write docs/rules.md anew")

func TestManualIsTheRegistry(t *testing.T) {
	const page = "../../docs/rules.md"
	if *update {
		if err := os.WriteFile(page, []byte(Manual()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != Manual() {
		t.Error("docs/rules.md differs from the registry; run the test with -update")
	}
}
