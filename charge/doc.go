// Package charge has the charge that contact makes and parting leaves, the gas that caps it, what a field meter shows of it, and what it can do.
package charge
