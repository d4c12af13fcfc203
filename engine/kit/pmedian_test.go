package kit

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"testing"
)

// median makes a kit problem of a p-median one: distances from clients to sites, of which
// size are opened so that the clients' distances to their nearest sum to the least. A
// score is 1 less the distance over something above the greatest.
func median(distances [][]int, size int) *Problem {
	clients, sites := len(distances), len(distances[0])
	above := 1
	for _, row := range distances {
		above = max(above, slices.Max(row)+1)
	}
	p := &Problem{Size: size, MaxCost: -1, Scores: make([][]float64, sites)}
	for site := range sites {
		for client := range clients {
			p.Scores[site] = append(p.Scores[site], 1-float64(distances[client][site])/float64(above))
		}
	}
	for range clients {
		p.Weights = append(p.Weights, 1)
	}
	return p
}

// distance sums the clients' distances to their nearest of the sites.
func distance(distances [][]int, sites []int) int {
	sum := 0
	for _, row := range distances {
		near := row[sites[0]]
		for _, site := range sites {
			near = min(near, row[site])
		}
		sum += near
	}
	return sum
}

// readPMed reads a graph of OR-Library's p-median set: vertices, edges and p, then an edge
// a line. Its notes say that of two edges between the same vertices the last counts, and
// that the shortest paths are the distances.
func readPMed(r io.Reader) (distances [][]int, size int, err error) {
	var vertices, edges int
	if _, err := fmt.Fscan(r, &vertices, &edges, &size); err != nil {
		return nil, 0, err
	}
	const far = 1 << 30
	distances = make([][]int, vertices)
	for i := range distances {
		distances[i] = slices.Repeat([]int{far}, vertices)
		distances[i][i] = 0
	}
	for range edges {
		var from, to, length int
		if _, err := fmt.Fscan(r, &from, &to, &length); err != nil {
			return nil, 0, err
		}
		distances[from-1][to-1], distances[to-1][from-1] = length, length
	}
	for via := range vertices {
		for from := range vertices {
			for to := range vertices {
				distances[from][to] = min(distances[from][to], distances[from][via]+distances[via][to])
			}
		}
	}
	return distances, size, nil
}

// openPMed reads one of the files under testdata/kit; SOURCES.md beside them says whence
// they come.
func openPMed(t *testing.T, name string) (distances [][]int, size int) {
	t.Helper()
	file, err := os.Open(filepath.Join("..", "..", "testdata", "kit", name))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	distances, size, err = readPMed(file)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return distances, size
}

// The sizes and the optima are those of OR-Library, its file pmedopt for the latter; the
// medians of the first problem are what GLPK 5.0 finds. The node limit is that of the
// product.
func TestORLibraryMedians(t *testing.T) {
	for _, c := range []struct {
		name           string
		vertices, size int
		sum            int
		medians        []int // numbered from 1, as in the file; nil where not known
	}{
		{"pmed1.txt", 100, 5, 5819, []int{7, 13, 65, 91, 99}},
		{"pmed2.txt", 100, 10, 4093, nil},
		{"pmed3.txt", 100, 10, 4250, nil},
		{"pmed4.txt", 100, 20, 3034, nil},
		{"pmed5.txt", 100, 33, 1355, nil},
		{"pmed6.txt", 200, 5, 7824, nil},
		{"pmed7.txt", 200, 10, 5631, nil},
		{"pmed8.txt", 200, 20, 4445, nil},
		{"pmed9.txt", 200, 40, 2734, nil},
		{"pmed10.txt", 200, 67, 1255, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			distances, size := openPMed(t, c.name)
			if len(distances) != c.vertices || size != c.size {
				t.Fatalf("got %d vertices and p = %d, want %d and %d", len(distances), size, c.vertices, c.size)
			}
			got, err := Search{NodeLimit: 2_000_000}.Solve(median(distances, size), 0)
			if err != nil {
				t.Fatal(err)
			}
			sites := got.Sets[0].Lenses
			if sum := distance(distances, sites); sum != c.sum || !got.Proven || got.Gap != 0 {
				t.Errorf("got a sum of %d, proven %v with a gap of %g; want %d, proven without", sum, got.Proven, got.Gap, c.sum)
			}
			if len(sites) > size {
				t.Errorf("got %d medians, want %d at most", len(sites), size)
			}
			for i := range c.medians {
				if sites[i] != c.medians[i]-1 {
					t.Errorf("got medians %v counted from 0, want %v counted from 1", sites, c.medians)
					break
				}
			}
		})
	}
}

// Twelve clients by eight sites a to h: the table in the notes of "Instances of the
// obnoxious p-median problem". The sums come from looking at all 28 pairs.
var twelveByEight = [][]int{
	{10, 33, 28, 29, 32, 49, 54, 64},
	{10, 24, 33, 25, 30, 46, 42, 60},
	{12, 24, 11, 12, 37, 32, 47, 47},
	{27, 7, 36, 23, 13, 40, 25, 48},
	{15, 8, 21, 8, 21, 29, 33, 43},
	{31, 8, 37, 24, 5, 33, 17, 41},
	{34, 27, 11, 11, 40, 10, 41, 29},
	{35, 12, 26, 13, 17, 21, 22, 29},
	{42, 15, 38, 25, 6, 33, 10, 31},
	{41, 24, 28, 18, 30, 9, 24, 17},
	{51, 28, 42, 29, 20, 24, 9, 17},
	{54, 37, 41, 31, 31, 22, 20, 6},
}

func TestTwelveByEight(t *testing.T) {
	const b, d, e, f = 1, 3, 4, 5
	for _, c := range []struct {
		name  string
		size  int
		solve func(p *Problem) ([]Set, error)
		want  [][]int
		sums  []int
	}{
		{"best two, searched", 2, func(p *Problem) ([]Set, error) {
			s, err := searched(p, 0, 0)
			return s.Sets, err
		}, [][]int{{d, e}}, []int{191}},
		{"best one and the next", 1, func(p *Problem) ([]Set, error) {
			s, err := Search{}.Solve(p, 1)
			return s.Sets, err
		}, [][]int{{b}, {d}}, []int{247, 248}},
		{"greedy choice falls short", 2, func(p *Problem) ([]Set, error) {
			t, err := newTable(p)
			if err != nil {
				return nil, err
			}
			lenses, w := t.greedy()
			c := t.newCandidate(lenses, w.covered)
			return []Set{t.set(p, &c)}, nil
		}, [][]int{{b, f}}, []int{196}},
	} {
		t.Run(c.name, func(t *testing.T) {
			sets, err := c.solve(median(twelveByEight, c.size))
			if err != nil {
				t.Fatal(err)
			}
			if len(sets) != len(c.want) {
				t.Fatalf("got %d sets, want %d", len(sets), len(c.want))
			}
			for i, set := range sets {
				if sum := distance(twelveByEight, set.Lenses); !slices.Equal(set.Lenses, c.want[i]) || sum != c.sums[i] {
					t.Errorf("got sites %v with a sum of %d, want %v with %d", set.Lenses, sum, c.want[i], c.sums[i])
				}
			}
		})
	}
}
