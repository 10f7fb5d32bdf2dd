// Package pages draws and lays out what is shown and printed of a range: the
// rods to scale, what became of them from release to release, and the pages that
// these stand on.
//
// All drawings of a rod have its butt on the left and its tip on the right, so
// that what stands above the other is at the same place of the rod.
//
// A drawing has a file here, a method of Pen and its words under pictures: in
// say/english.yaml; a page has a package of its own below. It draws on package
// drawing, and takes values from diffing and evaluate.
package pages
