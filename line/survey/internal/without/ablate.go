//go:build ablate

package without

var out Ingredient

// Is reports whether the ingredient is out.
func Is(i Ingredient) bool { return out == i && i != Nothing }

// Set takes an ingredient out of all diagnoses that begin later, Nothing none.
func Set(i Ingredient) { out = i }
