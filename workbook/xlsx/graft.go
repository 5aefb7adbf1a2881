package xlsx

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"path"
	"slices"
	"strconv"
	"strings"
)

// A graft puts the sheets of a draft into a copy of a person's workbook. Parts
// of the person's are copied as packed, without being unpacked; only the lists
// that have to name the new sheets are edited, and those in place.
type graft struct {
	book   *Book
	draft  *Draft
	gone   map[int]bool                     // indexes of sheets left out
	drop   map[string]bool                  // folded names of parts left out
	edited parts                            // parts of the person's that were edited, by their own name
	added  parts                            // new parts; of a new sheet its shell
	fill   map[string]func(io.Writer) error // of a new sheet: writes it with its rows
	types  map[string]string
	mark   string // prefix of the new parts' names
}

// WriteWith writes a copy of the workbook with the Draft's sheets behind the
// person's own. Sheets named in replace are left out. The parts of all other
// sheets are copied byte for byte; macros are not carried over. The new sheets
// are packed side by side, before the first byte goes out.
func (b *Book) WriteWith(ctx context.Context, w io.Writer, d *Draft, replace []string) error {
	g := &graft{book: b, draft: d, gone: map[int]bool{}, drop: map[string]bool{}, edited: parts{}, added: parts{}, fill: map[string]func(io.Writer) error{}, types: map[string]string{}}
	if err := g.leaveOut(replace); err != nil {
		return err
	}
	if err := g.names(); err != nil {
		return err
	}
	for _, step := range []func() error{g.sheets, g.workbook, g.relations, g.properties, g.contentTypes} {
		if err := step(); err != nil {
			return err
		}
	}
	return g.write(ctx, w)
}

// FreeName is a sheet name that no sheet of the workbook has, apart from those
// to be replaced: the wanted one, or Summary (2).
func (b *Book) FreeName(wanted string, replace []string) string {
	for n := 1; ; n++ {
		name := wanted
		if n > 1 {
			name = fmt.Sprintf("%s (%d)", wanted, n)
		}
		taken := slices.ContainsFunc(b.pkg.list, func(s sheetRef) bool {
			return strings.EqualFold(s.name, name) && !slices.Contains(replace, s.name)
		})
		if !taken {
			return name
		}
	}
}

// leaveOut finds the sheets and parts that do not come along: replaced
// sheets with what only they use, macros, and the order of calculation, which
// every program makes anew.
func (g *graft) leaveOut(replace []string) error {
	p := g.book.pkg
	for i, s := range p.list {
		if slices.Contains(replace, s.name) || s.kind == "xlMacrosheet" || s.kind == "xlIntlMacrosheet" {
			g.gone[i] = true
		}
	}
	reach := func(roots []string) (map[string]bool, error) {
		seen := map[string]bool{}
		for len(roots) > 0 {
			name := roots[0]
			roots = roots[1:]
			if name == "" || seen[fold(name)] || fold(name) == fold(p.main) {
				continue
			}
			seen[fold(name)] = true
			rels, err := p.relations(name)
			if err != nil {
				return nil, err
			}
			for _, r := range rels {
				if !r.external {
					roots = append(roots, r.target)
				}
			}
		}
		return seen, nil
	}
	var gone, kept []string
	for _, r := range p.rels {
		i := slices.IndexFunc(p.list, func(s sheetRef) bool { return s.id == r.id })
		switch {
		case r.external:
		case i >= 0 && g.gone[i], macroKind(r.kind), r.kind == "calcChain":
			gone = append(gone, r.target)
		default:
			kept = append(kept, r.target)
		}
	}
	goneParts, err := reach(gone)
	if err != nil {
		return err
	}
	keptParts, err := reach(kept)
	if err != nil {
		return err
	}
	for name := range goneParts {
		if !keptParts[name] {
			g.drop[name], g.drop[fold(relsOf(name))] = true, true
		}
	}
	for name := range p.parts {
		if base := path.Base(name); strings.HasPrefix(base, "vbaproject") || base == "vbadata.xml" {
			g.drop[name] = true
		}
	}
	return nil
}

func macroKind(kind string) bool {
	return kind == "vbaProject" || kind == "wordVbaData" || kind == "attachedToolbars"
}

// names checks the new sheets' names and picks names for their parts.
func (g *graft) names() error {
	for _, s := range g.draft.sheets {
		for i, old := range g.book.pkg.list {
			if !g.gone[i] && strings.EqualFold(old.name, s.Name) {
				return fmt.Errorf("the workbook has a sheet %s already", old.name)
			}
		}
	}
	for n := 1; ; n++ {
		g.mark = "platebook"
		if n > 1 {
			g.mark += strconv.Itoa(n) + "_"
		}
		taken := false
		for name := range g.book.pkg.parts {
			taken = taken || strings.HasPrefix(path.Base(name), g.mark) && !g.drop[name]
		}
		if !taken {
			return nil
		}
	}
}

// sheets makes the new parts, with styles numbered behind the person's.
func (g *graft) sheets() error {
	p := g.book.pkg
	mine, pal, err := g.draft.shells()
	if err != nil {
		return err
	}
	offset := 0
	styles := find(p.rels, "styles")
	if styles == "" || !p.has(styles) {
		styles = path.Join(path.Dir(p.main), "styles.xml")
		g.added[styles] = mine["xl/styles.xml"]
		g.types[styles] = typeOf("styles")
	} else {
		theirs, err := p.bytesOf(styles)
		if err != nil {
			return err
		}
		merged, n, err := mergeStyles(mine["xl/styles.xml"], theirs)
		if err != nil {
			return p.partError("the styles", err)
		}
		g.edited[styles], offset = merged, n
	}
	for name, shell := range mine {
		if path.Dir(name) == "xl/worksheets" {
			mine[name] = bytes.Replace(shell, []byte(` tabSelected="1"`), nil, 1)
		}
	}
	own, err := overrides(mine[contentTypes])
	if err != nil {
		return err
	}
	moved := map[string]string{}
	for name := range mine {
		if dir := path.Dir(name); dir == "xl/worksheets" || dir == "xl/drawings" || dir == "xl/media" || dir == "xl" && strings.HasPrefix(path.Base(name), "comments") {
			moved[name] = dir + "/" + g.mark + path.Base(name)
		}
	}
	for i, s := range g.draft.sheets {
		shell := mine[sheetName(i)]
		g.fill[moved[sheetName(i)]] = func(w io.Writer) error {
			if err := s.fill(w, shell, pal, offset); err != nil {
				return fmt.Errorf("sheet %s: %w", s.Name, err)
			}
			return nil
		}
	}
	for _, name := range mine.names() {
		to, ok := moved[name]
		if !ok {
			if strings.Contains(name, "/_rels/") && moved[path.Join(path.Dir(path.Dir(name)), strings.TrimSuffix(path.Base(name), ".rels"))] != "" {
				to = path.Join(path.Dir(name), g.mark+path.Base(name))
				g.added[to] = renamed(mine[name], moved)
			}
			continue
		}
		g.added[to] = mine[name]
		if t := own[name]; t != "" {
			g.types[to] = t
		}
	}
	return nil
}

// renamed moves the targets of a part's relations to their new names.
func renamed(rels []byte, moved map[string]string) []byte {
	names := make([]string, 0, len(moved))
	for name := range moved {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		old, now := path.Base(name), path.Base(moved[name])
		rels = bytes.ReplaceAll(rels, []byte("/"+old+`"`), []byte("/"+now+`"`))
	}
	return rels
}

func typeOf(kind string) string {
	return "application/vnd.openxmlformats-officedocument.spreadsheetml." + kind + "+xml"
}

func (g *graft) sheetPart(i int) string {
	return "xl/worksheets/" + g.mark + "sheet" + strconv.Itoa(i+1) + ".xml"
}

func (g *graft) relID(i int) string { return g.mark + "Sheet" + strconv.Itoa(i+1) }

// inside says whether an entry of the zip stays in the folder it is unpacked
// into: others are no parts of a workbook and are not handed on.
func inside(name string) bool {
	return name == path.Clean(name) && name != ".." && !strings.HasPrefix(name, "../") && !strings.HasPrefix(name, "/") && !strings.Contains(name, ":")
}

// write puts the zip together in the order of names: person's parts as they
// are packed, edited and new ones packed anew.
func (g *graft) write(ctx context.Context, w io.Writer) error {
	filled, err := packAll(ctx, g.fill)
	if err != nil {
		return err
	}
	z := newZip(w)
	all := parts{}
	for name, content := range g.added {
		all[name] = content
	}
	for _, f := range g.book.pkg.zip.File {
		name := fold(f.Name)
		if !g.drop[name] && !strings.HasSuffix(name, "/") && inside(name) {
			all[strings.ReplaceAll(f.Name, `\`, "/")] = nil
		}
	}
	edited := map[string][]byte{}
	for name, content := range g.edited {
		edited[fold(name)] = content
	}
	for _, name := range all.names() {
		if packed := filled[name]; packed != nil {
			delete(filled, name)
			if err := z.putPacked(name, packed); err != nil {
				return err
			}
		} else if content, ok := g.added[name]; ok {
			if err := z.put(name, content); err != nil {
				return err
			}
		} else if content, ok := edited[fold(name)]; ok {
			if err := z.put(name, content); err != nil {
				return err
			}
		} else if err := z.Copy(g.book.pkg.parts[fold(name)]); err != nil {
			return fmt.Errorf("copying %s: %w", name, err)
		}
	}
	return z.Close()
}
