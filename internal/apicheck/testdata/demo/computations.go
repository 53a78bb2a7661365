package demo

// Computations is the registry.
func Computations() float64 {
	var s Sized = NewCube()
	return Area(2) + (&Box[float64]{}).Side() + s.Size()
}
