package report

import (
	"platebook/render/draw"
	"platebook/rules/inspection"
)

// drawing is a figure by its subject; nothing when it has no data.
func (w *writer) drawing(string) []Block { return nil }

// photoMap is the thumbnail plan of a photo's place.
func (w *writer) photoMap(inspection.Photo) *draw.Scene { return nil }
