package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"platebook/workbook/hostile"
)

// The page that tells what was tried is what the tests try: its corpus is
// written from theirs, and each fuzz target stands in it.
func TestReliabilityPage(t *testing.T) {
	path := filepath.Join("..", "..", "docs", "reliability.md")
	have, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	const begin, end = "<!-- corpus -->\n", "<!-- end of corpus -->\n"
	head, rest, ok1 := strings.Cut(string(have), begin)
	_, tail, ok2 := strings.Cut(rest, end)
	if !ok1 || !ok2 {
		t.Fatal("the place of the corpus is gone")
	}
	want := head + begin + corpus() + end + tail
	if *update {
		if err := os.WriteFile(path, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
	} else if string(have) != want {
		t.Error("docs/reliability.md is not what the corpus says: go test ./cmd/platebook -run Reliability -update")
	}
	out, err := exec.Command("git", "-C", filepath.Join("..", ".."), "grep", "-hoE", "^func Fuzz[A-Za-z0-9_]+", "--", "*_test.go").Output()
	if err != nil {
		t.Skip("no git:", err)
	}
	for _, name := range regexp.MustCompile(`Fuzz\w+`).FindAllString(string(out), -1) {
		if !strings.Contains(want, name) {
			t.Errorf("docs/reliability.md says nothing of %s", name)
		}
	}
}

// corpus is the table of hostile input.
func corpus() string {
	var b strings.Builder
	cases := hostile.Cases()
	kinds := map[string]int{}
	for _, c := range cases {
		kinds[c.Kind]++
	}
	fmt.Fprintf(&b, "%d inputs of %d kinds. Code “0, 1”: done, with or without findings; in question is what becomes of the text.\n\n| kind | input | code | says |\n| --- | --- | --- | --- |\n", len(cases), len(kinds))
	for _, c := range cases {
		code := fmt.Sprint(c.Code)
		if c.Code == hostile.Any {
			code = "0, 1"
		}
		says := strings.ReplaceAll(c.Says, "|", `\|`)
		fmt.Fprintf(&b, "| %s | %s | %s | %s |\n", c.Kind, c.Name, code, says)
	}
	return b.String()
}
