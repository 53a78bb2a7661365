package transport

import (
	"context"
	"errors"
	"fmt"
	"math"
	"runtime"
	"sync"
	"sync/atomic"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// SolveAll solves many problems on the given number of goroutines (0: one for
// each core) into dst, which must be as long. A row that fails keeps its old
// content; the error joins the faults of all failed rows, each with its index.
// Results do not depend on the number of goroutines.
func SolveAll(dst []Solution, problems []Problem, s SolverSettings, workers int) error {
	return solveAll(context.Background(), dst, problems, s, workers)
}

func solveAll(ctx context.Context, dst []Solution, problems []Problem, s SolverSettings, workers int) error {
	if len(dst) != len(problems) {
		return known.Wrong("dst", fmt.Sprintf("%d rows", len(dst)), fmt.Sprintf("%d", len(problems)))
	}
	return sweep(len(problems), s, workers, func(sv *Solver, i int) error {
		return sv.SolveContext(ctx, &problems[i], &dst[i])
	})
}

// WallCurrentsTo computes the net current to the surface for each problem, as
// [SolveAll] does. A row that fails becomes NaN and is listed in the error.
func WallCurrentsTo(dst []units.CurrentDensity, problems []Problem, s SolverSettings, workers int) error {
	return wallCurrentsTo(context.Background(), dst, problems, s, workers)
}

func wallCurrentsTo(ctx context.Context, dst []units.CurrentDensity, problems []Problem, s SolverSettings,
	workers int) error {
	if len(dst) != len(problems) {
		return known.Wrong("dst", fmt.Sprintf("%d rows", len(dst)), fmt.Sprintf("%d", len(problems)))
	}
	sols := sync.Pool{New: func() any { return new(Solution) }}
	return sweep(len(problems), s, workers, func(sv *Solver, i int) error {
		r := sols.Get().(*Solution)
		defer sols.Put(r)
		if err := sv.SolveContext(ctx, &problems[i], r); err != nil {
			dst[i] = units.CurrentDensity(math.NaN())
			return err
		}
		dst[i] = r.WallCurrent
		return nil
	})
}

// sweep calls f for every row, each goroutine with a solver of its own.
func sweep(n int, s SolverSettings, workers int, f func(*Solver, int) error) error {
	if _, err := NewSolver(s); err != nil {
		return err
	}
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	workers = min(workers, n)
	faults := make([]error, n)
	var next atomic.Int64
	var wg sync.WaitGroup
	for range workers {
		wg.Go(func() {
			sv, err := NewSolver(s)
			if err != nil {
				return // checked above
			}
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				if err := f(sv, i); err != nil {
					faults[i] = fmt.Errorf("row %d: %w", i, err)
				}
			}
		})
	}
	wg.Wait()
	return errors.Join(faults...)
}
