// Package pages draws and lays out what is shown and printed of a range: the
// rods to scale, what became of them from release to release, and the pages that
// these stand on.
//
// All drawings of a rod have its butt on the left and its tip on the right, so
// that what stands above the other is at the same place of the rod.
package pages
