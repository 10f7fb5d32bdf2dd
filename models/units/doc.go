// Package units has the quantities that a rod is described and measured by:
// their types in SI units, the units that a maker writes them in, and how they
// are read and written. Reading is exact: every spelling of a quantity gives the
// same float64. A new unit is a line of its table.
//
// It imports only package spelling.
package units
