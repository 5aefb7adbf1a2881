package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write docs/licences.txt anew")

const licencesPath = "../../docs/licences.txt"

// The systems a release is built for.
var systems = []string{"linux", "darwin", "windows"}

type module struct {
	Path, Version, Dir string
	Main               bool
}

// linked returns the modules whose code is in a release, for any system.
func linked(t *testing.T) []module {
	t.Helper()
	seen := map[string]module{}
	for _, system := range systems {
		cmd := exec.Command("go", "list", "-deps", "-tags", "nodynamic", "-json=Module", ".")
		cmd.Env = append(os.Environ(), "GOOS="+system, "CGO_ENABLED=0")
		cmd.Stderr = os.Stderr
		out, err := cmd.Output()
		if err != nil {
			t.Fatalf("go list for %s: %v", system, err)
		}
		for d := json.NewDecoder(bytes.NewReader(out)); ; {
			var p struct{ Module *module }
			if err := d.Decode(&p); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				t.Fatal(err)
			}
			if p.Module != nil && !p.Module.Main {
				seen[p.Module.Path] = *p.Module
			}
		}
	}
	var all []module
	for _, m := range seen {
		all = append(all, m)
	}
	slices.SortFunc(all, func(a, b module) int { return strings.Compare(a.Path, b.Path) })
	return all
}

// licencesOf returns the licence and notice files in the root of a module.
func licencesOf(t *testing.T, m module) string {
	t.Helper()
	entries, err := os.ReadDir(m.Dir)
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for _, e := range entries {
		name := strings.ToUpper(e.Name())
		if e.IsDir() || strings.HasSuffix(name, ".GO") {
			continue
		}
		if strings.HasPrefix(name, "LICEN") || strings.HasPrefix(name, "COPYING") || strings.HasPrefix(name, "NOTICE") {
			text, err := os.ReadFile(filepath.Join(m.Dir, e.Name()))
			if err != nil {
				t.Fatal(err)
			}
			b.WriteString(plain(string(text)))
		}
	}
	if b.Len() == 0 {
		t.Errorf("%s %s has no licence file: it cannot be released", m.Path, m.Version)
	}
	return b.String()
}

// plain trims the lines of a licence text, so that the file compares by words.
func plain(text string) string {
	lines := strings.Split(strings.ReplaceAll(text, "\r", ""), "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " \t\f")
	}
	return strings.Trim(strings.Join(lines, "\n"), "\n") + "\n"
}

// What no module's licence file says of itself.
const licencesHead = `Licences of what a platebook release is made of. platebook itself: see LICENSE.
Written anew by: go test ./cmd/platebook -run Licences -update

The HEIC decoder github.com/gen2brain/heic carries libheif and libde265, compiled
to WebAssembly. Both are under the GNU Lesser General Public License, version 3
(https://www.gnu.org/licenses/lgpl-3.0.html); their source is at
https://github.com/strukturag/libheif and https://github.com/strukturag/libde265.
A user may replace them: build platebook from its source with another version of
the module.

The embedded fonts are Liberation Sans, under the SIL Open Font License, see
templates/fonts/OFL.txt, its text at the end; DejaVu Sans, for letters that
Liberation has not, from the module codeberg.org/go-fonts/dejavu, under the
Bitstream Vera licence with the Arev and DejaVu changes, its text with that
module; and Droid Sans Fallback, for Chinese, Japanese and Korean, copyright 2006
Google Corporation, unchanged, under the Apache License 2.0, see
templates/fonts/Apache-2.0.txt, its text at the end.
`

func TestLicencesOfEverythingLinkedAreCollected(t *testing.T) {
	var b strings.Builder
	b.WriteString(licencesHead)
	section := func(name, text string) { fmt.Fprintf(&b, "\n%s\n%s\n\n%s", strings.Repeat("=", 80), name, text) }
	for _, m := range linked(t) {
		section(m.Path+" "+m.Version, licencesOf(t, m))
	}
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		t.Fatal(err)
	}
	if text, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(root)), "LICENSE")); err == nil {
		section("Go standard library", plain(string(text)))
	} else {
		t.Skip("this Go has no licence file to compare with: ", err)
	}
	fonts, err := os.ReadFile("../../templates/fonts/OFL.txt")
	if err != nil {
		t.Fatal(err)
	}
	section("Liberation Sans", plain(string(fonts)))
	if fonts, err = os.ReadFile("../../templates/fonts/Apache-2.0.txt"); err != nil {
		t.Fatal(err)
	}
	section("Droid Sans Fallback", plain(string(fonts)))
	if *update {
		if err := os.WriteFile(licencesPath, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	stored, err := os.ReadFile(licencesPath)
	if err != nil {
		t.Fatal(err)
	}
	if string(stored) != b.String() {
		t.Error("docs/licences.txt does not hold the licences of what is linked now; look at the difference after: go test ./cmd/platebook -run Licences -update")
	}
}
