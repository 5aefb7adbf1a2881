package workbook

import (
	"errors"

	"platebook/rules/finding"
	"platebook/workbook/xlsx"
)

// The custom document properties of what the program writes beside results.
const (
	reviewProperty = "platebook review"
	indexProperty  = "platebook index"
)

// ErrOwn marks a workbook that holds no inspection, since the program wrote it.
var ErrOwn = errors.New("written by this program")

// ownOutput tells a review or an index under whatever name, nil for neither.
func ownOutput(file *xlsx.Book) *finding.Unusable {
	u := &finding.Unusable{Rule: "F108", Err: ErrOwn}
	switch {
	case file.Property(reviewProperty) != "":
		u.Message, u.Do = "is a review that this program wrote, no inspection", "Give the workbook that was reviewed."
	case file.Property(indexProperty) != "":
		u.Message, u.Do = "is an index of tanks that this program wrote, no inspection", "Give the workbook of one tank, or the folder: `platebook batch`."
	default:
		return nil
	}
	return u
}
