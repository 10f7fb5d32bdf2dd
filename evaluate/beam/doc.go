// Package beam bends and swings a rod: a clamped, slender, inextensible rod of
// varying stiffness in the plane, at any rotation. All values are SI float64.
package beam
