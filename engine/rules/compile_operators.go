package rules

import "glassbrief/engine/facts"

func negative(a operand) operand {
	switch a.form {
	case constant:
		return constantOf(-a.value)
	case fact:
		id := a.fact
		return just(func(r *facts.Record) float64 { return -r.Value[id&at] })
	}
	f := a.f
	return just(func(r *facts.Record) float64 { return -f(r) })
}

// arithmetic joins two operands by + - * or /.
func arithmetic(operator string, a, b operand) operand {
	if areConstant(a, b) {
		return constantOf(calculate(operator, a.value, b.value))
	}
	switch operator {
	case "+":
		return just(sum(a, b))
	case "-":
		return just(difference(a, b))
	case "*":
		return scaled(a, b)
	}
	return just(quotient(a, b))
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

// sum fuses the weighted sums that scores are made of. Products are converted before
// they are added: without that, Go may round the two steps as one.
func sum(a, b operand) Number {
	if a.is(constant) {
		a, b = b, a
	}
	i, j, k := a.fact, b.fact, b.value
	switch f, g := a.load(), b.load(); {
	case a.scaled != nil && b.is(constant):
		f, h := a.scaled, a.factor
		return func(r *facts.Record) float64 { return float64(f(r)*h) + k }
	case a.scaled != nil && b.scaled != nil:
		f, g, h, k := a.scaled, b.scaled, a.factor, b.factor
		return func(r *facts.Record) float64 { return float64(f(r)*h) + float64(g(r)*k) }
	case a.is(fact) && b.is(constant):
		return func(r *facts.Record) float64 { return r.Value[i&at] + k }
	case b.is(constant):
		return func(r *facts.Record) float64 { return f(r) + k }
	case a.is(fact) && b.is(fact):
		return func(r *facts.Record) float64 { return r.Value[i&at] + r.Value[j&at] }
	case b.is(fact):
		return func(r *facts.Record) float64 { return f(r) + r.Value[j&at] }
	case a.is(fact):
		return func(r *facts.Record) float64 { return r.Value[i&at] + g(r) }
	default:
		return func(r *facts.Record) float64 { return f(r) + g(r) }
	}
}

// scaled is a product that remembers its constant factor, for a sum around it.
func scaled(a, b operand) operand {
	if a.is(constant) {
		a, b = b, a
	}
	all := just(product(a, b))
	if b.is(constant) {
		all.scaled, all.factor = a.load(), b.value
	}
	return all
}

func product(a, b operand) Number {
	i, j, k := a.fact, b.fact, b.value
	switch f, g := a.load(), b.load(); {
	case a.is(fact) && b.is(constant):
		return func(r *facts.Record) float64 { return r.Value[i&at] * k }
	case b.is(constant):
		return func(r *facts.Record) float64 { return f(r) * k }
	case a.is(fact) && b.is(fact):
		return func(r *facts.Record) float64 { return r.Value[i&at] * r.Value[j&at] }
	case b.is(fact):
		return func(r *facts.Record) float64 { return f(r) * r.Value[j&at] }
	case a.is(fact):
		return func(r *facts.Record) float64 { return r.Value[i&at] * g(r) }
	default:
		return func(r *facts.Record) float64 { return f(r) * g(r) }
	}
}

func difference(a, b operand) Number {
	i, j, h, k := a.fact, b.fact, a.value, b.value
	switch f, g := a.load(), b.load(); {
	case a.is(fact) && b.is(constant):
		return func(r *facts.Record) float64 { return r.Value[i&at] - k }
	case a.is(constant) && b.is(fact):
		return func(r *facts.Record) float64 { return h - r.Value[j&at] }
	case b.is(constant):
		return func(r *facts.Record) float64 { return f(r) - k }
	case a.is(constant):
		return func(r *facts.Record) float64 { return h - g(r) }
	case a.is(fact) && b.is(fact):
		return func(r *facts.Record) float64 { return r.Value[i&at] - r.Value[j&at] }
	default:
		return func(r *facts.Record) float64 { return f(r) - g(r) }
	}
}

func quotient(a, b operand) Number {
	i, j, h, k := a.fact, b.fact, a.value, b.value
	switch f, g := a.load(), b.load(); {
	case a.is(fact) && b.is(constant):
		return func(r *facts.Record) float64 { return r.Value[i&at] / k }
	case a.is(constant) && b.is(fact):
		return func(r *facts.Record) float64 { return h / r.Value[j&at] }
	case b.is(constant):
		return func(r *facts.Record) float64 { return f(r) / k }
	case a.is(constant):
		return func(r *facts.Record) float64 { return h / g(r) }
	case a.is(fact) && b.is(fact):
		return func(r *facts.Record) float64 { return r.Value[i&at] / r.Value[j&at] }
	default:
		return func(r *facts.Record) float64 { return f(r) / g(r) }
	}
}

// less gives a < b.
func less(a, b operand) Truth {
	i, j, h, k := a.fact, b.fact, a.value, b.value
	switch f, g := a.load(), b.load(); {
	case areConstant(a, b):
		return truthOf(h < k)
	case a.is(fact) && b.is(constant):
		return func(r *facts.Record) bool { return r.Value[i&at] < k }
	case a.is(constant) && b.is(fact):
		return func(r *facts.Record) bool { return h < r.Value[j&at] }
	case b.is(constant):
		return func(r *facts.Record) bool { return f(r) < k }
	case a.is(constant):
		return func(r *facts.Record) bool { return h < g(r) }
	case a.is(fact) && b.is(fact):
		return func(r *facts.Record) bool { return r.Value[i&at] < r.Value[j&at] }
	default:
		return func(r *facts.Record) bool { return f(r) < g(r) }
	}
}

// atMost gives a <= b.
func atMost(a, b operand) Truth {
	i, j, h, k := a.fact, b.fact, a.value, b.value
	switch f, g := a.load(), b.load(); {
	case areConstant(a, b):
		return truthOf(h <= k)
	case a.is(fact) && b.is(constant):
		return func(r *facts.Record) bool { return r.Value[i&at] <= k }
	case a.is(constant) && b.is(fact):
		return func(r *facts.Record) bool { return h <= r.Value[j&at] }
	case b.is(constant):
		return func(r *facts.Record) bool { return f(r) <= k }
	case a.is(constant):
		return func(r *facts.Record) bool { return h <= g(r) }
	case a.is(fact) && b.is(fact):
		return func(r *facts.Record) bool { return r.Value[i&at] <= r.Value[j&at] }
	default:
		return func(r *facts.Record) bool { return f(r) <= g(r) }
	}
}
