package pdf

import (
	"slices"
	"time"

	"github.com/johnfercher/go-tree/node"
	"github.com/johnfercher/maroto/v2"
	"github.com/johnfercher/maroto/v2/pkg/components/col"
	"github.com/johnfercher/maroto/v2/pkg/components/page"
	"github.com/johnfercher/maroto/v2/pkg/components/row"
	"github.com/johnfercher/maroto/v2/pkg/config"
	"github.com/johnfercher/maroto/v2/pkg/consts/align"
	"github.com/johnfercher/maroto/v2/pkg/consts/fontstyle"
	"github.com/johnfercher/maroto/v2/pkg/core"
	"github.com/johnfercher/maroto/v2/pkg/core/entity"
	"github.com/johnfercher/maroto/v2/pkg/props"
	"github.com/phpdave11/gofpdf"

	"platebook/render/lettering"
)

// The fonts' names at maroto; the finishing pass renames them.
const (
	family  = "liberationsans"
	reserve = "dejavusans"
	eastern = "droidsansfallback"
)

// The writer beneath maroto sorts its tables and dates its files only when
// told to, and only for the whole program. The dates are replaced in the
// finishing pass; a fixed one keeps the clock out of it.
func init() {
	gofpdf.SetDefaultCatalogSort(true)
	gofpdf.SetDefaultCreationDate(time.Unix(0, 0).UTC())
	gofpdf.SetDefaultModificationDate(time.Unix(0, 0).UTC())
}

// press has maroto set the text of the running pages, leave the others blank,
// and embed both fonts with the letters of all; they stand on one page more,
// the last, which the finishing pass takes away.
func press(sheets []*sheet, f *faces, p paper) ([]byte, error) {
	fonts := []*entity.CustomFont{
		{Family: family, Style: fontstyle.Normal, Bytes: slices.Clone(lettering.File(lettering.Main, false))},
		{Family: family, Style: fontstyle.Bold, Bytes: slices.Clone(lettering.File(lettering.Main, true))},
	}
	all := text{
		{x: 0, y: 10, size: 1, ink: black, text: letters(&f.regular.used[lettering.Main])},
		{x: 0, y: 20, size: 1, ink: black, text: letters(&f.bold.used[lettering.Main]), bold: true},
	}
	// The others are large: each is opened only for a report that needs it.
	for _, other := range others {
		if f.uses(other.family) {
			fonts = append(fonts,
				&entity.CustomFont{Family: other.name, Style: fontstyle.Normal, Bytes: slices.Clone(lettering.File(other.family, false))},
				&entity.CustomFont{Family: other.name, Style: fontstyle.Bold, Bytes: slices.Clone(lettering.File(other.family, true))})
		}
	}
	cfg := config.NewBuilder().
		WithDimensions(p.w, p.h).
		WithLeftMargin(0).WithTopMargin(0).WithRightMargin(0).WithBottomMargin(0).
		WithCustomFonts(fonts).
		WithDefaultFont(&props.Font{Family: family, Size: 9}).
		WithSequentialMode().
		WithCompression(false).
		Build()
	m := maroto.New(cfg)
	for _, s := range sheets {
		m.AddPages(onePage(p, text(s.runs)))
	}
	last := []core.Component{all}
	for _, other := range others {
		if f.uses(other.family) {
			last = append(last, spare{other.name, text{
				{x: 0, y: 30, size: 1, ink: black, text: letters(&f.regular.used[other.family])},
				{x: 0, y: 40, size: 1, ink: black, text: letters(&f.bold.used[other.family]), bold: true},
			}})
		}
	}
	m.AddPages(onePage(p, last...))
	doc, err := m.Generate()
	if err != nil {
		return nil, err
	}
	return doc.GetBytes(), nil
}

// others are the families that few reports need.
var others = []struct {
	family lettering.Family
	name   string
}{{lettering.Reserve, reserve}, {lettering.East, eastern}}

// uses says whether any letter comes from a family.
func (f *faces) uses(family lettering.Family) bool {
	return len(f.regular.used[family].all())+len(f.bold.used[family].all()) > 0
}

// fonts is how many fonts the document has, two for each family in use.
func (f *faces) fonts() int {
	n := 2
	for _, other := range others {
		if f.uses(other.family) {
			n += 2
		}
	}
	return n
}

// letters is a set as a text, the space always with it.
func letters(used *letterSet) string {
	used.add(' ')
	return string(used.all())
}

// onePage is a page of one row that fills it but for a hair, so that
// rounding never makes two of it.
func onePage(p paper, all ...core.Component) core.Page {
	return page.New().Add(row.New(p.h - 0.01).Add(col.New(12).Add(all...)))
}

// text is a maroto component: runs at their places.
type text []run

func (text) SetConfig(*entity.Config) {}

func (text) GetStructure() *node.Node[core.Structure] {
	return node.New(core.Structure{Type: "text"})
}

func (text) GetHeight(core.Provider, *entity.Cell) float64 { return 0 }

func (t text) Render(p core.Provider, _ *entity.Cell) { t.render(p, family) }

// spare is text in another font.
type spare struct {
	name string
	text
}

func (t spare) Render(p core.Provider, _ *entity.Cell) { t.render(p, t.name) }

func (t text) render(p core.Provider, family string) {
	for _, r := range t {
		style := fontstyle.Normal
		if r.bold {
			style = fontstyle.Bold
		}
		// Maroto puts the baseline one font height below the cell's top. Lines
		// are broken before, so the cell is wide enough never to break again.
		p.AddText(r.text, &entity.Cell{X: r.x, Y: r.y - r.size*pt, Width: 1e6, Height: 1e6}, &props.Text{
			Family: family, Style: style, Size: r.size, Align: align.Left,
			Color: &props.Color{Red: int(r.ink.r), Green: int(r.ink.g), Blue: int(r.ink.b)},
		})
	}
}
