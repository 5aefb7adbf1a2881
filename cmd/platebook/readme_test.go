package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The run that README shows is the run a newcomer sees.
func TestReadmeShowsARealRun(t *testing.T) {
	readme, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	_, after, ok := strings.Cut(string(readme), "```console\n$ platebook demo\n")
	block, _, ok2 := strings.Cut(after, "```")
	if !ok || !ok2 {
		t.Fatal("no run of the demo in README")
	}
	t.Chdir(t.TempDir())
	var out, talk bytes.Buffer
	if code := run(context.Background(), []string{"demo"}, nil, &out, &talk); code != exitDone {
		t.Fatalf("exit code %d: %s", code, talk.String())
	}
	rest := out.String()
	for _, line := range strings.Split(strings.TrimSpace(block), "\n") {
		if line == "…" {
			continue
		}
		_, after, found := strings.Cut(rest, line+"\n")
		if !found {
			t.Fatalf("README shows %q, the demo prints\n%s", line, out.String())
		}
		rest = after
	}
}
