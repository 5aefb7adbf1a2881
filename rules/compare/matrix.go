package compare

// Assign pairs the rows of a full table of costs with its columns so that the
// sum of the costs is least: the pairing of two inspections laid bare, for
// tables whose optimum is published. Costs are 0 or more.
func Assign(costs [][]float64) []int {
	edges, cols := make([][]edge, len(costs)), 0
	for i, row := range costs {
		cols = max(cols, len(row))
		for j, c := range row {
			edges[i] = append(edges[i], edge{j, c})
		}
	}
	return assign(edges, cols)
}
