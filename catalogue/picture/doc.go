// Package picture reads the photographs and the logo of a range, within limits, and
// makes them as small as a page needs.
package picture
