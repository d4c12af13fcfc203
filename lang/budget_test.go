package lang

import (
	"fmt"
	"strings"
	"sync"
	"testing"
)

// Each limit of a budget is met by texts that stay within it, and names itself and how to raise it in
// the first finding beyond.
func TestBudget(t *testing.T) {
	const budget = 1_000_000
	line := strings.Repeat("x", 99) + "\n"
	for _, c := range []struct {
		name, summary, detail string
		texts                 []string
	}{
		{"one file", "the file holds more than 250kB", "--budget 2MB", []string{strings.Repeat(line, 2500), strings.Repeat(line, 2501)}},
		{"all files", "with this file, the run reads more than 1MB", "\"budget: 2MB\" in the settings", []string{
			strings.Repeat(line, 2500), strings.Repeat(line, 2500), strings.Repeat(line, 2500), strings.Repeat(line, 2500), "x",
		}},
		{"lines", "the run reads more than 31250 lines", "--budget 2MB", []string{strings.Repeat("\n", 31_000), strings.Repeat("\n", 248), strings.Repeat("\n", 300)}},
		{"files", "the run reads more than 156 files", "--budget 2MB", slicesOf("x", 157)},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := NewBudget(budget)
			for i, text := range c.texts {
				_, ds := b.Source(fmt.Sprint(i), text, OfFile)
				switch last := i == len(c.texts)-1; {
				case !last && ds != nil:
					t.Fatalf("text %d: %v", i, ds)
				case last && (len(ds) != 1 || ds[0].Code != TooLarge || ds[0].Span.Source.Name != fmt.Sprint(i)):
					t.Fatalf("text %d: got %v, want one finding about it", i, ds)
				case last && (!strings.Contains(ds[0].Summary, c.summary) || !strings.Contains(ds[0].Detail, c.detail)):
					t.Errorf("got %q, %q, want %q, %q", ds[0].Summary, ds[0].Detail, c.summary, c.detail)
				}
			}
			b.Raise(2 * budget)
			last := len(c.texts) - 1
			if _, ds := b.Source(fmt.Sprint(last), c.texts[last], OfFile); ds != nil {
				t.Errorf("with the budget that was told: %v", ds)
			}
		})
	}
}

func slicesOf(text string, n int) []string {
	return strings.Split(strings.Repeat(text+" ", n-1)+text, " ")
}

// Once the budget is spent, nothing more is read, and one finding is all that is said of it.
func TestSpentBudget(t *testing.T) {
	b := NewBudget(1_000_000)
	text := strings.Repeat(strings.Repeat("x", 99)+"\n", 2500)
	var found Diagnostics
	for i := range 100 {
		read, err := b.Read(strings.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		if _, ds := b.Source(fmt.Sprint(i), read, OfFile); ds != nil {
			found = append(found, ds...)
		}
		if len(found) > 1 && read != "" {
			t.Fatalf("file %d is read all the same", i)
		}
	}
	if n := len(found.Sorted()); len(found) != 96 || n != 1 {
		t.Errorf("%d files are refused, with %d findings; want 96 and one", len(found), n)
	}
}

// A file that is read again costs nothing, unless it has changed; goroutines share one budget.
func TestBudgetIsShared(t *testing.T) {
	b := NewBudget(1_000_000)
	text := strings.Repeat(strings.Repeat("x", 99)+"\n", 2500)
	for range 100 {
		if _, ds := b.Source("a", text, OfFile); ds != nil {
			t.Fatal(ds)
		}
	}
	var group sync.WaitGroup
	refused := make([]bool, 10)
	for i := range refused {
		group.Go(func() {
			_, ds := b.Source("a", text[:len(text)-1]+fmt.Sprint(i), OfFile)
			refused[i] = ds != nil
		})
	}
	group.Wait()
	n := 0
	for _, is := range refused {
		if is {
			n++
		}
	}
	if n != 7 {
		t.Errorf("%d of ten changed files are refused, want seven: a quarter of the budget is spent", n)
	}
}

func TestParseBudget(t *testing.T) {
	for text, want := range map[string]int{
		"64MB": 64_000_000, "1 GB": 1_000_000_000, "2GB": 2_000_000_000, "1000kB": 1_000_000,
		"": 0, "64": 0, "MB": 0, "-64MB": 0, "0MB": 0, "999kB": 0, "3GB": 0, "1.5GB": 0, "64mb": 0, "9999999999999999999GB": 0, "64MB more": 0,
	} {
		got, ok := ParseBudget(text)
		if ok != (want > 0) || ok && got != want {
			t.Errorf("%q: got %d, %t, want %d", text, got, ok, want)
		}
	}
	for _, bytes := range []int{DefaultBudget, leastBudget, mostBudget, 1_234_000} {
		if got, ok := ParseBudget(SizeText(bytes)); !ok || got != bytes {
			t.Errorf("%s: got %d, %t, want %d", SizeText(bytes), got, ok, bytes)
		}
	}
}
