// Package decay has how charge leaks: laws, layers, sheets, moving webs, test methods and the fitting of measured decays.
package decay
