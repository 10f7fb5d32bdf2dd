// Package plan finds the rods by which a model comes from one to another over
// several releases, none of which changes more of what a customer sees than the
// maker's limits allow.
//
// It imports diffing, evaluate and models, and makes no sentences: a plan, and why
// there is none, is told by package say. What a step may change by itself is a track.
package plan
