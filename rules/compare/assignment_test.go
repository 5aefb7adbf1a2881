package compare

import (
	"encoding/json"
	"math"
	"math/rand"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

func matrix(rows [][]float64) [][]edge {
	out := make([][]edge, len(rows))
	for i, r := range rows {
		for j, c := range r {
			out[i] = append(out[i], edge{j, c})
		}
	}
	return out
}

func total(t *testing.T, rows [][]float64, cols []int) float64 {
	t.Helper()
	used := map[int]bool{}
	sum := 0.0
	for i, j := range cols {
		if j < 0 {
			continue
		}
		if used[j] {
			t.Fatalf("column %d twice", j)
		}
		used[j] = true
		sum += rows[i][j]
	}
	return sum
}

func load(t *testing.T, name string, v any) {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("..", "..", "testdata", "assignment", name))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(b, v); err != nil {
		t.Fatal(err)
	}
}

// Source: assign100 from OR-Library (Beasley 1990), published optimum 305; the
// smaller ones derived with scipy 1.10.1 (testdata/assignment/assignment.json).
func TestAssignmentOptima(t *testing.T) {
	var set struct {
		Instances []struct {
			File     string
			N        int
			Expected struct {
				Min float64 `json:"min_cost"`
				Max float64 `json:"max_cost"`
			}
		}
	}
	load(t, "assignment.json", &set)
	for _, in := range set.Instances {
		b, err := os.ReadFile(filepath.Join("..", "..", "testdata", "assignment", in.File))
		if err != nil {
			t.Fatal(err)
		}
		var rows, turned [][]float64
		for _, line := range strings.Fields(string(b)) {
			var row, other []float64
			for _, f := range strings.Split(line, ",") {
				v, err := strconv.ParseFloat(f, 64)
				if err != nil {
					t.Fatal(err)
				}
				row, other = append(row, v), append(other, 1000-v)
			}
			rows, turned = append(rows, row), append(turned, other)
		}
		if len(rows) != in.N {
			t.Fatalf("%s: %d rows, want %d", in.File, len(rows), in.N)
		}
		if got := total(t, rows, assign(matrix(rows), in.N)); got != in.Expected.Min {
			t.Errorf("%s: least %v, want %v", in.File, got, in.Expected.Min)
		}
		if got := total(t, rows, assign(matrix(turned), in.N)); got != in.Expected.Max {
			t.Errorf("%s: greatest %v, want %v", in.File, got, in.Expected.Max)
		}
	}
}

// Source: derived, checkable by hand (testdata/assignment/hand.json); the first
// is a common textbook example.
func TestAssignmentByHand(t *testing.T) {
	var set struct {
		Cases []struct {
			Name     string
			Cost     [][]float64
			Expected struct {
				Min     float64 `json:"min_cost"`
				Columns any
			}
		}
	}
	load(t, "hand.json", &set)
	for _, c := range set.Cases {
		got := assign(matrix(c.Cost), len(c.Cost[0]))
		if sum := total(t, c.Cost, got); sum != c.Expected.Min {
			t.Errorf("%s: %v, want %v", c.Name, sum, c.Expected.Min)
		}
		if want, ok := c.Expected.Columns.([]any); ok {
			for i, w := range want {
				if float64(got[i]) != w.(float64) {
					t.Errorf("%s: row %d to %d, want %v", c.Name, i, got[i], w)
				}
			}
			continue
		}
		for i, j := range got { // all equal: the first in order
			if i != j {
				t.Errorf("%s: row %d to %d, want %d", c.Name, i, j, i)
			}
		}
	}
}

// Every small case against trying all assignments: most pairs, least sum, and
// of equal ones the first in order of rows and columns.
func TestAssignmentAgainstAllOthers(t *testing.T) {
	rnd := rand.New(rand.NewSource(11))
	for n := 0; n < 4000; n++ {
		rows, cols := 1+rnd.Intn(5), 1+rnd.Intn(5)
		edges := make([][]edge, rows)
		for i := range edges {
			for j := 0; j < cols; j++ {
				if rnd.Intn(3) > 0 {
					edges[i] = append(edges[i], edge{j, float64(rnd.Intn(4))})
				}
			}
		}
		got := assign(edges, cols)
		var best []int
		least := cost{math.MaxInt32, 0}
		cur := make([]int, rows)
		taken := make([]bool, cols)
		var try func(i int, c cost)
		try = func(i int, c cost) {
			if i == rows {
				if c.less(least) {
					least, best = c, append([]int(nil), cur...)
				}
				return
			}
			for _, e := range edges[i] {
				if !taken[e.to] {
					taken[e.to], cur[i] = true, e.to
					try(i+1, c.add(cost{0, e.cost}))
					taken[e.to] = false
				}
			}
			cur[i] = -1
			try(i+1, c.add(cost{1, 0}))
		}
		try(0, cost{})
		for i := range best {
			if best[i] != got[i] {
				t.Fatalf("case %d: %v\ngot %v, want %v", n, edges, got, best)
			}
		}
	}
}
