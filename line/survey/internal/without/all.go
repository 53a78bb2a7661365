//go:build !ablate

package without

// Is reports whether the ingredient is out: none ever is.
func Is(Ingredient) bool { return false }
