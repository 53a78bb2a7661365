package units

import "unsafe"

// Floats returns the same memory as float64, for kernels that know no types.
// Writing through one view changes the other.
func Floats[T Quantity](x []T) []float64 { // [SI]
	return unsafe.Slice((*float64)(unsafe.Pointer(unsafe.SliceData(x))), len(x)) // T is ~float64: same size and layout
}

// Quantities returns the same memory as quantities, the inverse of [Floats].
func Quantities[T Quantity](x []float64) []T { // x [SI]
	return unsafe.Slice((*T)(unsafe.Pointer(unsafe.SliceData(x))), len(x))
}
