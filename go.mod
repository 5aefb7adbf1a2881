module platebook

go 1.26.0

require (
	codeberg.org/go-fonts/liberation v0.6.0 // indirect
	github.com/bep/imagemeta v1.0.1 // indirect
	github.com/boombuler/barcode v1.0.1 // indirect
	github.com/disintegration/imaging v1.6.2 // indirect
	github.com/ebitengine/purego v0.8.3 // indirect
	github.com/f-amaral/go-async v0.3.0 // indirect
	github.com/gen2brain/heic v0.4.5 // indirect
	github.com/google/go-cmp v0.7.0 // indirect
	github.com/google/uuid v1.5.0 // indirect
	github.com/hhrutter/lzw v1.0.0 // indirect
	github.com/hhrutter/tiff v1.0.1 // indirect
	github.com/johnfercher/go-tree v1.0.5 // indirect
	github.com/johnfercher/maroto/v2 v2.3.3 // indirect
	github.com/mattn/go-runewidth v0.0.15 // indirect
	github.com/pdfcpu/pdfcpu v0.6.0 // indirect
	github.com/phpdave11/gofpdf v1.4.3 // indirect
	github.com/pkg/errors v0.9.1 // indirect
	github.com/rivo/uniseg v0.4.4 // indirect
	github.com/tetratelabs/wazero v1.9.0 // indirect
	golang.org/x/image v0.47.0 // indirect
	golang.org/x/text v0.43.0 // indirect
	gopkg.in/yaml.v2 v2.4.0 // indirect
)
