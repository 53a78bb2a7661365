// Package transport has the coupled one-dimensional problem of both species of ions
// between a source and a charged wall: air, drift, diffusion, recombination and
// space charge, steady and in time.
//
// # Where to start
//
//   - Describe it: [Problem] with two [Carrier]s, a flow ([UniformFlow],
//     [StagnationFlow], [JetFlow] or one of your own) and a [Wall].
//   - Steady state: [NewSolver] and [Solver.Solve]; the next one of a sweep
//     [Solver.SolveNext], on a mesh of your own [Solver.SolveOn], many at once
//     [SolveAll], [WallCurrentsTo].
//   - A web that passes below a source: [Solver.Pass].
//   - In time: [NewTransient] and [Transient.Advance].
//   - What can take longer than 0.2 s has a form that ends with a context:
//     [Solver.SolveContext], [Solver.SolveOnContext], [Solver.PassContext], [SolveAllContext],
//     [WallCurrentsToContext], [Transient.AdvanceContext].
//
// # Conventions
//
// SI throughout; densities in 1/m³. x runs from the inlet to the wall, and a positive
// field along x points away from the source. How far the reduced model of package
// ioniser is from this problem is tabled in the documentation of that package, and its
// tests hold it to it.
package transport
