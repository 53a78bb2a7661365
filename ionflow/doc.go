// Package ionflow has ions in air streams: their properties, the air that carries them, what reaches a charged surface and what it leaves there.
package ionflow
