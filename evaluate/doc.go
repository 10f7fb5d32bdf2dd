// Package evaluate turns the resolved spec of a rod into figures: what it
// weighs, where it balances, how it bends and swings, and how near it comes to
// its limit.
//
// Every figure follows from the dimensions in the spec through package beam,
// the mechanics kernel; there are no fudge factors. A figure carries its unit,
// a bound on its numerical error and a sentence that a customer understands.
//
// FiguresWithTolerances adds how far rods built to the spec scatter: every
// Input of the spec is put off by its deviation either way, and the differences
// give the first-order tolerance of each figure and its sources (the law of
// propagation of uncertainty, JCGM 100:2008). Figures that do not follow their
// inputs in a straight line are sampled. Pairs are rods built to two specs, which
// share the errors of what these have in common: they say what a change comes to.
//
// The rod is laid out along the assembled blank. Inside this package z is the
// distance from the butt end in metres; what the trade measures from the tip,
// ring positions above all, is turned round once, in assemble. Ring patterns, which
// Patterns lays out on the bent rod, are counted from the tip as a maker does.
//
// Everything is asked of a [Rod], which is laid out and meshed once. It imports models,
// the table of figures and the kernels below it, and nothing of how rods are kept or
// shown. A new figure is a row of package figures and its computation here; a new
// question is a method of Rod in a file of its own.
package evaluate
