// Package kits shows how a module of its own holds its models to the laws of
// pithball: each kind of model once right and once wrong, with a mistake that was
// seen in real code. The right one passes; of the wrong one the kit tells the law that
// it breaks and the roundest input that shows it. Run
//
//	go test -v ./kits
//
// in examples/embed to read the counter-examples. Everything is in the test files, as
// the kits are for tests only. The models are invented for this purpose and fit no
// material or machine.
package kits
