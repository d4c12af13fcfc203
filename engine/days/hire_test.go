package days

import (
	"slices"
	"testing"
)

func TestPeriod(t *testing.T) {
	for _, c := range []struct {
		name string
		hire Hire
		days int
		want int64
	}{
		{"by the day", Hire{Day: 7000, Fetch: 4000}, 2, 18000},
		{"least days", Hire{Day: 7000, Least: 3}, 2, 21000},
		{"a week is cheaper", Hire{Day: 7000, Week: 21000}, 4, 21000},
		{"days are cheaper", Hire{Day: 7000, Week: 21000}, 2, 14000},
		{"a week and two days", Hire{Day: 7000, Week: 21000}, 9, 35000},
		{"two weeks", Hire{Day: 7000, Week: 21000}, 11, 42000},
	} {
		if got := c.hire.period(c.days); got != c.want {
			t.Errorf("%s: %d days cost %d, want %d", c.name, c.days, got, c.want)
		}
	}
}

func TestPeriods(t *testing.T) {
	june := []Dates{{1, 30}}
	for _, c := range []struct {
		name string
		lens Lens
		used []int
		want []Dates
		cost int64
	}{
		{"owned", Lens{}, []int{3, 4}, nil, 0},
		{"never used", Lens{Hire: &Hire{Day: 10}}, nil, nil, 0},
		{"kept over a day off", Lens{Hire: &Hire{Day: 10, Fetch: 15}}, []int{3, 5}, []Dates{{3, 5}}, 45},
		{"fetched again", Lens{Hire: &Hire{Day: 10, Fetch: 15}}, []int{3, 6}, []Dates{{3, 3}, {6, 6}}, 50},
		{"one period only", Lens{Hire: &Hire{Day: 10, Once: true}}, []int{3, 6}, []Dates{{3, 6}}, 40},
		{"kept for the week", Lens{Hire: &Hire{Day: 10, Week: 30}}, []int{3, 6, 8, 9}, []Dates{{3, 9}}, 30},
		{"not to be had between", Lens{Hire: &Hire{Day: 10, Fetch: 100}, Available: []Dates{{1, 3}, {5, 9}}}, []int{3, 5}, []Dates{{3, 3}, {5, 5}}, 220},
		{"not to be had between, one period", Lens{Hire: &Hire{Day: 10, Once: true}, Available: []Dates{{1, 3}, {5, 9}}}, []int{3, 5}, nil, never},
		{"not to be had", Lens{Hire: &Hire{Day: 10}, Available: june}, []int{31}, nil, never},
	} {
		if got, cost := c.lens.periods(c.used); !slices.Equal(got, c.want) || cost != c.cost {
			t.Errorf("%s: got %v for %d, want %v for %d", c.name, got, cost, c.want, c.cost)
		}
	}
}
