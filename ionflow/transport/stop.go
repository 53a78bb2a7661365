package transport

import (
	"context"

	"example.org/pithball/units"
)

// stopper asks whether ctx has ended; nil for a context that never ends, so that who gives none pays nothing.
func stopper(ctx context.Context) func() bool {
	if ctx.Done() == nil {
		return nil
	}
	return func() bool { return ctx.Err() != nil }
}

// SolveContext is [Solver.Solve] that ends soon after ctx does, within one step of the iteration; its error is then
// that of ctx, and dst is not changed.
func (s *Solver) SolveContext(ctx context.Context, p *Problem, dst *Solution) error {
	return s.within(ctx, func() error { return s.Solve(p, dst) })
}

// SolveOnContext is [Solver.SolveOn] that ends soon after ctx does, within one step of the iteration; its error is then
// that of ctx, and dst is not changed.
func (s *Solver) SolveOnContext(ctx context.Context, p *Problem, mesh []units.Length, dst *Solution) error {
	return s.within(ctx, func() error { return s.SolveOn(p, mesh, dst) })
}

// PassContext is [Solver.Pass] that ends soon after ctx does; its error is then that of ctx, and dst holds the way
// that the patch had come.
func (s *Solver) PassContext(ctx context.Context, p *Patch, dst *PatchResult) error {
	return s.within(ctx, func() error { return s.Pass(p, dst) })
}

// within lets f end when ctx does.
func (s *Solver) within(ctx context.Context, f func() error) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	s.stop = stopper(ctx)
	defer func() { s.stop = nil }()
	err := f()
	if stopped := ctx.Err(); err != nil && stopped != nil {
		s.warm = false // what the last iteration left is no solution
		return stopped
	}
	return err
}

// SolveAllContext is [SolveAll] that ends soon after ctx does: rows that were not solved by then keep their old
// content, and their fault is the error of ctx.
func SolveAllContext(ctx context.Context, dst []Solution, problems []Problem, s SolverSettings, workers int) error {
	return solveAll(ctx, dst, problems, s, workers)
}

// WallCurrentsToContext is [WallCurrentsTo] that ends soon after ctx does: rows that were not solved by then are NaN,
// and their fault is the error of ctx.
func WallCurrentsToContext(ctx context.Context, dst []units.CurrentDensity, problems []Problem, s SolverSettings,
	workers int) error {
	return wallCurrentsTo(ctx, dst, problems, s, workers)
}

// AdvanceContext is [Transient.Advance] that ends soon after ctx does, within one step of the iteration; its error is
// then that of ctx, and the state is that of the time reached, from which a later call goes on.
func (t *Transient) AdvanceContext(ctx context.Context, until units.Time) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	t.st.D.Stop = stopper(ctx)
	defer func() { t.st.D.Stop = nil }()
	err := t.advance(ctx, until)
	if stopped := ctx.Err(); err != nil && stopped != nil {
		return stopped
	}
	return err
}
