package rules

import "glassbrief/engine/facts"

// An operator with a constant on its right has closures of its own, since rules consist mostly
// of those: each saves a call.

// arithmetic joins two operands by + - * or /.
func arithmetic(operator string, a, b operand) operand {
	if a.is(constant) && b.is(constant) {
		return constantOf(calculate(operator, a.value, b.value))
	}
	if a.is(constant) && (operator == "+" || operator == "*") {
		a, b = b, a
	}
	i, k, f, g := a.fact, b.value, a.load(), b.load()
	switch {
	case operator == "+" && a.scaled != nil && (b.scaled != nil || b.is(constant)):
		return just(weighted(a, b))
	case a.is(fact) && b.is(constant):
		switch operator {
		case "+":
			return just(func(r *facts.Record) float64 { return r.Value[i&at] + k })
		case "-":
			return just(func(r *facts.Record) float64 { return r.Value[i&at] - k })
		case "*":
			return operand{f: func(r *facts.Record) float64 { return r.Value[i&at] * k }, scaled: f, factor: k}
		}
		return just(func(r *facts.Record) float64 { return r.Value[i&at] / k })
	case b.is(constant):
		switch operator {
		case "+":
			return just(func(r *facts.Record) float64 { return f(r) + k })
		case "-":
			return just(func(r *facts.Record) float64 { return f(r) - k })
		case "*":
			return operand{f: func(r *facts.Record) float64 { return f(r) * k }, scaled: f, factor: k}
		}
		return just(func(r *facts.Record) float64 { return f(r) / k })
	}
	switch operator {
	case "+":
		return just(func(r *facts.Record) float64 { return f(r) + g(r) })
	case "-":
		return just(func(r *facts.Record) float64 { return f(r) - g(r) })
	case "*":
		return just(func(r *facts.Record) float64 { return f(r) * g(r) })
	}
	return just(func(r *facts.Record) float64 { return f(r) / g(r) })
}

func calculate(operator string, a, b float64) float64 {
	switch operator {
	case "+":
		return a + b
	case "-":
		return a - b
	case "*":
		return a * b
	}
	return a / b
}

// weighted gives the weighted sums that scores are made of. Products are converted before
// they are added: without that, Go may round the two steps as one.
func weighted(a, b operand) number {
	f, h, k := a.scaled, a.factor, b.value
	if b.is(constant) {
		return func(r *facts.Record) float64 { return float64(f(r)*h) + k }
	}
	g, k := b.scaled, b.factor
	return func(r *facts.Record) float64 { return float64(f(r)*h) + float64(g(r)*k) }
}

// comparison gives a < b, or the same with <= > or >=.
func comparison(operator string, a, b operand) truth {
	i, k, f, g := a.fact, b.value, a.load(), b.load()
	switch {
	case a.is(fact) && b.is(constant):
		switch operator {
		case "<":
			return func(r *facts.Record) bool { return r.Value[i&at] < k }
		case "<=":
			return func(r *facts.Record) bool { return r.Value[i&at] <= k }
		case ">":
			return func(r *facts.Record) bool { return r.Value[i&at] > k }
		}
		return func(r *facts.Record) bool { return r.Value[i&at] >= k }
	case b.is(constant):
		switch operator {
		case "<":
			return func(r *facts.Record) bool { return f(r) < k }
		case "<=":
			return func(r *facts.Record) bool { return f(r) <= k }
		case ">":
			return func(r *facts.Record) bool { return f(r) > k }
		}
		return func(r *facts.Record) bool { return f(r) >= k }
	}
	switch operator {
	case "<":
		return func(r *facts.Record) bool { return f(r) < g(r) }
	case "<=":
		return func(r *facts.Record) bool { return f(r) <= g(r) }
	case ">":
		return func(r *facts.Record) bool { return f(r) > g(r) }
	}
	return func(r *facts.Record) bool { return f(r) >= g(r) }
}
