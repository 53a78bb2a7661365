package compute

import (
	"reflect"

	"example.org/pithball/units/known"
)

// addressed are the variables that pointers point to.
func addressed(pointers ...any) []reflect.Value {
	v := make([]reflect.Value, len(pointers))
	for i, p := range pointers {
		v[i] = reflect.ValueOf(p).Elem()
	}
	return v
}

// Of11 is [Of] for a function of one parameter and one result, which it calls directly.
func Of11[A, R any](name string, f func(A) R, src known.Source, items ...string) Entry {
	return declare(name, reflect.TypeOf(f), func() *frame {
		var (
			a A
			r R
		)
		return &frame{in: addressed(&a), out: addressed(&r),
			call: func() { r = f(a) }}
	}, src, items)
}

// Of12 is [Of] for a function of one parameter and two results, which it calls directly.
func Of12[A, R1, R2 any](name string, f func(A) (R1, R2), src known.Source, items ...string) Entry {
	return declare(name, reflect.TypeOf(f), func() *frame {
		var (
			a  A
			r1 R1
			r2 R2
		)
		return &frame{in: addressed(&a), out: addressed(&r1, &r2),
			call: func() { r1, r2 = f(a) }}
	}, src, items)
}

// Of13 is [Of] for a function of one parameter and three results, which it calls directly.
func Of13[A, R1, R2, R3 any](name string, f func(A) (R1, R2, R3), src known.Source, items ...string) Entry {
	return declare(name, reflect.TypeOf(f), func() *frame {
		var (
			a  A
			r1 R1
			r2 R2
			r3 R3
		)
		return &frame{in: addressed(&a), out: addressed(&r1, &r2, &r3),
			call: func() { r1, r2, r3 = f(a) }}
	}, src, items)
}

// Of14 is [Of] for a function of one parameter and four results, which it calls directly.
func Of14[A, R1, R2, R3, R4 any](name string, f func(A) (R1, R2, R3, R4), src known.Source, items ...string) Entry {
	return declare(name, reflect.TypeOf(f), func() *frame {
		var (
			a  A
			r1 R1
			r2 R2
			r3 R3
			r4 R4
		)
		return &frame{in: addressed(&a), out: addressed(&r1, &r2, &r3, &r4),
			call: func() { r1, r2, r3, r4 = f(a) }}
	}, src, items)
}

// Of21 is [Of] for a function of two parameters and one result, which it calls directly.
func Of21[A1, A2, R any](name string, f func(A1, A2) R, src known.Source, items ...string) Entry {
	return declare(name, reflect.TypeOf(f), func() *frame {
		var (
			a1 A1
			a2 A2
			r  R
		)
		return &frame{in: addressed(&a1, &a2), out: addressed(&r),
			call: func() { r = f(a1, a2) }}
	}, src, items)
}

// Of22 is [Of] for a function of two parameters and two results, which it calls directly.
func Of22[A1, A2, R1, R2 any](name string, f func(A1, A2) (R1, R2), src known.Source, items ...string) Entry {
	return declare(name, reflect.TypeOf(f), func() *frame {
		var (
			a1 A1
			a2 A2
			r1 R1
			r2 R2
		)
		return &frame{in: addressed(&a1, &a2), out: addressed(&r1, &r2),
			call: func() { r1, r2 = f(a1, a2) }}
	}, src, items)
}

// Of23 is [Of] for a function of two parameters and three results, which it calls directly.
func Of23[A1, A2, R1, R2, R3 any](name string, f func(A1, A2) (R1, R2, R3), src known.Source, items ...string) Entry {
	return declare(name, reflect.TypeOf(f), func() *frame {
		var (
			a1 A1
			a2 A2
			r1 R1
			r2 R2
			r3 R3
		)
		return &frame{in: addressed(&a1, &a2), out: addressed(&r1, &r2, &r3),
			call: func() { r1, r2, r3 = f(a1, a2) }}
	}, src, items)
}

// Of24 is [Of] for a function of two parameters and four results, which it calls directly.
func Of24[A1, A2, R1, R2, R3, R4 any](name string, f func(A1, A2) (R1, R2, R3, R4), src known.Source,
	items ...string) Entry {
	return declare(name, reflect.TypeOf(f), func() *frame {
		var (
			a1 A1
			a2 A2
			r1 R1
			r2 R2
			r3 R3
			r4 R4
		)
		return &frame{in: addressed(&a1, &a2), out: addressed(&r1, &r2, &r3, &r4),
			call: func() { r1, r2, r3, r4 = f(a1, a2) }}
	}, src, items)
}

// Of31 is [Of] for a function of three parameters and one result, which it calls directly.
func Of31[A1, A2, A3, R any](name string, f func(A1, A2, A3) R, src known.Source, items ...string) Entry {
	return declare(name, reflect.TypeOf(f), func() *frame {
		var (
			a1 A1
			a2 A2
			a3 A3
			r  R
		)
		return &frame{in: addressed(&a1, &a2, &a3), out: addressed(&r),
			call: func() { r = f(a1, a2, a3) }}
	}, src, items)
}

// Of32 is [Of] for a function of three parameters and two results, which it calls directly.
func Of32[A1, A2, A3, R1, R2 any](name string, f func(A1, A2, A3) (R1, R2), src known.Source, items ...string) Entry {
	return declare(name, reflect.TypeOf(f), func() *frame {
		var (
			a1 A1
			a2 A2
			a3 A3
			r1 R1
			r2 R2
		)
		return &frame{in: addressed(&a1, &a2, &a3), out: addressed(&r1, &r2),
			call: func() { r1, r2 = f(a1, a2, a3) }}
	}, src, items)
}

// Of33 is [Of] for a function of three parameters and three results, which it calls directly.
func Of33[A1, A2, A3, R1, R2, R3 any](name string, f func(A1, A2, A3) (R1, R2, R3), src known.Source,
	items ...string) Entry {
	return declare(name, reflect.TypeOf(f), func() *frame {
		var (
			a1 A1
			a2 A2
			a3 A3
			r1 R1
			r2 R2
			r3 R3
		)
		return &frame{in: addressed(&a1, &a2, &a3), out: addressed(&r1, &r2, &r3),
			call: func() { r1, r2, r3 = f(a1, a2, a3) }}
	}, src, items)
}

// Of34 is [Of] for a function of three parameters and four results, which it calls directly.
func Of34[A1, A2, A3, R1, R2, R3, R4 any](name string, f func(A1, A2, A3) (R1, R2, R3, R4), src known.Source,
	items ...string) Entry {
	return declare(name, reflect.TypeOf(f), func() *frame {
		var (
			a1 A1
			a2 A2
			a3 A3
			r1 R1
			r2 R2
			r3 R3
			r4 R4
		)
		return &frame{in: addressed(&a1, &a2, &a3), out: addressed(&r1, &r2, &r3, &r4),
			call: func() { r1, r2, r3, r4 = f(a1, a2, a3) }}
	}, src, items)
}

// Of41 is [Of] for a function of four parameters and one result, which it calls directly.
func Of41[A1, A2, A3, A4, R any](name string, f func(A1, A2, A3, A4) R, src known.Source, items ...string) Entry {
	return declare(name, reflect.TypeOf(f), func() *frame {
		var (
			a1 A1
			a2 A2
			a3 A3
			a4 A4
			r  R
		)
		return &frame{in: addressed(&a1, &a2, &a3, &a4), out: addressed(&r),
			call: func() { r = f(a1, a2, a3, a4) }}
	}, src, items)
}

// Of42 is [Of] for a function of four parameters and two results, which it calls directly.
func Of42[A1, A2, A3, A4, R1, R2 any](name string, f func(A1, A2, A3, A4) (R1, R2), src known.Source,
	items ...string) Entry {
	return declare(name, reflect.TypeOf(f), func() *frame {
		var (
			a1 A1
			a2 A2
			a3 A3
			a4 A4
			r1 R1
			r2 R2
		)
		return &frame{in: addressed(&a1, &a2, &a3, &a4), out: addressed(&r1, &r2),
			call: func() { r1, r2 = f(a1, a2, a3, a4) }}
	}, src, items)
}

// Of43 is [Of] for a function of four parameters and three results, which it calls directly.
func Of43[A1, A2, A3, A4, R1, R2, R3 any](name string, f func(A1, A2, A3, A4) (R1, R2, R3), src known.Source,
	items ...string) Entry {
	return declare(name, reflect.TypeOf(f), func() *frame {
		var (
			a1 A1
			a2 A2
			a3 A3
			a4 A4
			r1 R1
			r2 R2
			r3 R3
		)
		return &frame{in: addressed(&a1, &a2, &a3, &a4), out: addressed(&r1, &r2, &r3),
			call: func() { r1, r2, r3 = f(a1, a2, a3, a4) }}
	}, src, items)
}

// Of44 is [Of] for a function of four parameters and four results, which it calls directly.
func Of44[A1, A2, A3, A4, R1, R2, R3, R4 any](name string, f func(A1, A2, A3, A4) (R1, R2, R3, R4), src known.Source,
	items ...string) Entry {
	return declare(name, reflect.TypeOf(f), func() *frame {
		var (
			a1 A1
			a2 A2
			a3 A3
			a4 A4
			r1 R1
			r2 R2
			r3 R3
			r4 R4
		)
		return &frame{in: addressed(&a1, &a2, &a3, &a4), out: addressed(&r1, &r2, &r3, &r4),
			call: func() { r1, r2, r3, r4 = f(a1, a2, a3, a4) }}
	}, src, items)
}

// Of51 is [Of] for a function of five parameters and one result, which it calls directly.
func Of51[A1, A2, A3, A4, A5, R any](name string, f func(A1, A2, A3, A4, A5) R, src known.Source,
	items ...string) Entry {
	return declare(name, reflect.TypeOf(f), func() *frame {
		var (
			a1 A1
			a2 A2
			a3 A3
			a4 A4
			a5 A5
			r  R
		)
		return &frame{in: addressed(&a1, &a2, &a3, &a4, &a5), out: addressed(&r),
			call: func() { r = f(a1, a2, a3, a4, a5) }}
	}, src, items)
}

// Of52 is [Of] for a function of five parameters and two results, which it calls directly.
func Of52[A1, A2, A3, A4, A5, R1, R2 any](name string, f func(A1, A2, A3, A4, A5) (R1, R2), src known.Source,
	items ...string) Entry {
	return declare(name, reflect.TypeOf(f), func() *frame {
		var (
			a1 A1
			a2 A2
			a3 A3
			a4 A4
			a5 A5
			r1 R1
			r2 R2
		)
		return &frame{in: addressed(&a1, &a2, &a3, &a4, &a5), out: addressed(&r1, &r2),
			call: func() { r1, r2 = f(a1, a2, a3, a4, a5) }}
	}, src, items)
}

// Of53 is [Of] for a function of five parameters and three results, which it calls directly.
func Of53[A1, A2, A3, A4, A5, R1, R2, R3 any](name string, f func(A1, A2, A3, A4, A5) (R1, R2, R3), src known.Source,
	items ...string) Entry {
	return declare(name, reflect.TypeOf(f), func() *frame {
		var (
			a1 A1
			a2 A2
			a3 A3
			a4 A4
			a5 A5
			r1 R1
			r2 R2
			r3 R3
		)
		return &frame{in: addressed(&a1, &a2, &a3, &a4, &a5), out: addressed(&r1, &r2, &r3),
			call: func() { r1, r2, r3 = f(a1, a2, a3, a4, a5) }}
	}, src, items)
}

// Of54 is [Of] for a function of five parameters and four results, which it calls directly.
func Of54[A1, A2, A3, A4, A5, R1, R2, R3, R4 any](name string, f func(A1, A2, A3, A4, A5) (R1, R2, R3, R4),
	src known.Source, items ...string) Entry {
	return declare(name, reflect.TypeOf(f), func() *frame {
		var (
			a1 A1
			a2 A2
			a3 A3
			a4 A4
			a5 A5
			r1 R1
			r2 R2
			r3 R3
			r4 R4
		)
		return &frame{in: addressed(&a1, &a2, &a3, &a4, &a5), out: addressed(&r1, &r2, &r3, &r4),
			call: func() { r1, r2, r3, r4 = f(a1, a2, a3, a4, a5) }}
	}, src, items)
}

// Of61 is [Of] for a function of six parameters and one result, which it calls directly.
func Of61[A1, A2, A3, A4, A5, A6, R any](name string, f func(A1, A2, A3, A4, A5, A6) R, src known.Source,
	items ...string) Entry {
	return declare(name, reflect.TypeOf(f), func() *frame {
		var (
			a1 A1
			a2 A2
			a3 A3
			a4 A4
			a5 A5
			a6 A6
			r  R
		)
		return &frame{in: addressed(&a1, &a2, &a3, &a4, &a5, &a6), out: addressed(&r),
			call: func() { r = f(a1, a2, a3, a4, a5, a6) }}
	}, src, items)
}

// Of62 is [Of] for a function of six parameters and two results, which it calls directly.
func Of62[A1, A2, A3, A4, A5, A6, R1, R2 any](name string, f func(A1, A2, A3, A4, A5, A6) (R1, R2), src known.Source,
	items ...string) Entry {
	return declare(name, reflect.TypeOf(f), func() *frame {
		var (
			a1 A1
			a2 A2
			a3 A3
			a4 A4
			a5 A5
			a6 A6
			r1 R1
			r2 R2
		)
		return &frame{in: addressed(&a1, &a2, &a3, &a4, &a5, &a6), out: addressed(&r1, &r2),
			call: func() { r1, r2 = f(a1, a2, a3, a4, a5, a6) }}
	}, src, items)
}

// Of63 is [Of] for a function of six parameters and three results, which it calls directly.
func Of63[A1, A2, A3, A4, A5, A6, R1, R2, R3 any](name string, f func(A1, A2, A3, A4, A5, A6) (R1, R2, R3),
	src known.Source, items ...string) Entry {
	return declare(name, reflect.TypeOf(f), func() *frame {
		var (
			a1 A1
			a2 A2
			a3 A3
			a4 A4
			a5 A5
			a6 A6
			r1 R1
			r2 R2
			r3 R3
		)
		return &frame{in: addressed(&a1, &a2, &a3, &a4, &a5, &a6), out: addressed(&r1, &r2, &r3),
			call: func() { r1, r2, r3 = f(a1, a2, a3, a4, a5, a6) }}
	}, src, items)
}

// Of64 is [Of] for a function of six parameters and four results, which it calls directly.
func Of64[A1, A2, A3, A4, A5, A6, R1, R2, R3, R4 any](name string, f func(A1, A2, A3, A4, A5, A6) (R1, R2, R3, R4),
	src known.Source, items ...string) Entry {
	return declare(name, reflect.TypeOf(f), func() *frame {
		var (
			a1 A1
			a2 A2
			a3 A3
			a4 A4
			a5 A5
			a6 A6
			r1 R1
			r2 R2
			r3 R3
			r4 R4
		)
		return &frame{in: addressed(&a1, &a2, &a3, &a4, &a5, &a6), out: addressed(&r1, &r2, &r3, &r4),
			call: func() { r1, r2, r3, r4 = f(a1, a2, a3, a4, a5, a6) }}
	}, src, items)
}
