package days

// A value is what a part of a plan is worth, of which the sum over the parts is that of the plan.
type value struct {
	weight int64 // of the shots done
	worth  int64 // less all prices
	ties   int64 // changes of lens << 32 + pairs out of order
	cents  int64
}

// nothing is less than any part of a plan can be.
var nothing = value{weight: -1}

const oneChange = 1 << 32

func (v value) plus(w value) value {
	return value{v.weight + w.weight, v.worth + w.worth, v.ties + w.ties, v.cents + w.cents}
}

func (v value) minus(w value) value {
	return value{v.weight - w.weight, v.worth - w.worth, v.ties - w.ties, v.cents - w.cents}
}

// better compares all of two values.
func (v value) better(w value) bool {
	switch {
	case v.weight != w.weight:
		return v.weight > w.weight
	case v.worth != w.worth:
		return v.worth > w.worth
	case v.ties != w.ties:
		return v.ties < w.ties
	}
	return v.cents < w.cents
}

// clearly compares what comes before the order as written.
func (v value) clearly(w value) bool {
	switch {
	case v.weight != w.weight:
		return v.weight > w.weight
	case v.worth != w.worth:
		return v.worth > w.worth
	}
	return v.ties>>32 < w.ties>>32
}
