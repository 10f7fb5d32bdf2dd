package models

import "math/big"

// dimension is what a quantity measures.
type dimension struct {
	name    string // with its article, "a length"
	unit    string // SI, as figures and fields name it
	usual   string // the unit a maker would most likely have meant
	example string
	bare    string // the unit of a number written without one; "" refuses it
}

var (
	length      = &dimension{name: "a length", unit: "m", usual: "mm", example: "25 mm"}
	mass        = &dimension{name: "a mass", unit: "kg", usual: "g", example: "12 g"}
	force       = &dimension{name: "a force", unit: "N", usual: "g", example: "1.5 lb"}
	stress      = &dimension{name: "a modulus", unit: "Pa", usual: "GPa", example: "110 GPa"}
	density     = &dimension{name: "a density", unit: "kg/m³", usual: "kg/m3", example: "1550 kg/m3"}
	lineDensity = &dimension{name: "a mass per length", unit: "kg/m", usual: "g/m", example: "9 g/m"}
	rigidity    = &dimension{name: "a bending stiffness", unit: "N·m²", usual: "N·m2", example: "0.05 N·m2"}
	angle       = &dimension{name: "an angle", unit: "rad", usual: "deg", example: "45 deg", bare: "deg"}
	frequency   = &dimension{name: "a frequency", unit: "Hz", usual: "Hz", example: "2.3 Hz"}
	duration    = &dimension{name: "a time", unit: "s", usual: "min", example: "40 min"}
	share       = &dimension{name: "a share", unit: "1", usual: "%", example: "3 %"}
	ratio       = &dimension{name: "a plain number", unit: "1", usual: "", example: "0.28", bare: "1"}
	money       = &dimension{name: "a price", unit: "currency", usual: "", example: "2.40", bare: "currency"}
	inertia     = &dimension{name: "a moment of inertia", unit: "kg·m²", usual: "kg·m2", example: "0.12 kg·m2"}
	stiffness   = &dimension{name: "a stiffness", unit: "N/m", usual: "N/m", example: "12 N/m"}
)

// dimensionOf is the dimension that a Given of U is written in.
func dimensionOf[U ~float64]() *dimension {
	var u U
	switch any(u).(type) {
	case Length:
		return length
	case Mass:
		return mass
	case Force:
		return force
	case Stress:
		return stress
	case Density:
		return density
	case LineDensity:
		return lineDensity
	case Rigidity:
		return rigidity
	case Angle:
		return angle
	case Frequency:
		return frequency
	case Duration:
		return duration
	case Share:
		return share
	case Money:
		return money
	}
	panic("models: a quantity type without a dimension")
}

// unit is one unit of measurement; symbols lists its spellings, the usual one
// first.
type unit struct {
	symbols []string
	dim     *dimension
	size    *big.Rat // in the dimension's SI unit
}

// Exact sizes: NIST Special Publication 811 (2008), appendix B; standard
// gravity: 3rd General Conference on Weights and Measures (1901), declaration
// on the unit of mass. π to 35 digits, more than a float64 holds.
var (
	gravity = exact("9.80665")
	inch    = exact("0.0254")
	foot    = exact("0.3048")
	pound   = exact("0.45359237")
	ounce   = product(pound, exact("1/16"))
	lbf     = product(pound, gravity)
	psi     = quotient(lbf, product(inch, inch))
	degree  = quotient(exact("3.14159265358979323846264338327950288"), exact("180"))
)

var unitList = []unit{
	{[]string{"mm"}, length, exact("1/1000")},
	{[]string{"cm"}, length, exact("1/100")},
	{[]string{"m"}, length, exact("1")},
	{[]string{"km"}, length, exact("1000")},
	{[]string{"in", `"`, "″", "inch", "inches"}, length, inch},
	{[]string{"ft", "'", "′", "foot", "feet"}, length, foot},

	{[]string{"mg"}, mass, exact("1/1000000")},
	{[]string{"g"}, mass, exact("1/1000")},
	{[]string{"kg"}, mass, exact("1")},
	{[]string{"oz"}, mass, ounce},
	{[]string{"lb", "lbs"}, mass, pound},

	{[]string{"N"}, force, exact("1")},
	{[]string{"kN"}, force, exact("1000")},
	{[]string{"lbf"}, force, lbf},
	{[]string{"ozf"}, force, product(ounce, gravity)},
	{[]string{"kgf"}, force, gravity},

	{[]string{"Pa"}, stress, exact("1")},
	{[]string{"kPa"}, stress, exact("1000")},
	{[]string{"MPa"}, stress, exact("1000000")},
	{[]string{"GPa"}, stress, exact("1000000000")},
	{[]string{"psi"}, stress, psi},
	{[]string{"ksi"}, stress, product(psi, exact("1000"))},
	{[]string{"Msi"}, stress, product(psi, exact("1000000"))},

	{[]string{"kg/m3"}, density, exact("1")},
	{[]string{"g/cm3"}, density, exact("1000")},
	{[]string{"lb/ft3"}, density, quotient(pound, product(foot, foot, foot))},
	{[]string{"lb/in3"}, density, quotient(pound, product(inch, inch, inch))},
	{[]string{"oz/in3"}, density, quotient(ounce, product(inch, inch, inch))},

	{[]string{"g/m"}, lineDensity, exact("1/1000")},
	{[]string{"kg/m"}, lineDensity, exact("1")},
	{[]string{"oz/ft"}, lineDensity, quotient(ounce, foot)},

	{[]string{"Nm2"}, rigidity, exact("1")},
	{[]string{"lbfin2"}, rigidity, product(lbf, inch, inch)},

	{[]string{"deg", "°", "degree", "degrees"}, angle, degree},
	{[]string{"rad"}, angle, exact("1")},

	{[]string{"Hz"}, frequency, exact("1")},
	{[]string{"cpm", "per minute"}, frequency, exact("1/60")},

	{[]string{"s"}, duration, exact("1")},
	{[]string{"min"}, duration, exact("60")},
	{[]string{"h"}, duration, exact("3600")},

	{[]string{"%"}, share, exact("1/100")},

	{[]string{"kgm2"}, inertia, exact("1")},
	{[]string{"gm2"}, inertia, exact("1/1000")},
	{[]string{"ozin2"}, inertia, product(ounce, inch, inch)},
	{[]string{"lbft2"}, inertia, product(pound, foot, foot)},

	{[]string{"N/m"}, stiffness, exact("1")},
	{[]string{"lbf/in", "lb/in"}, stiffness, quotient(lbf, inch)},
	{[]string{"ozf/in", "oz/in"}, stiffness, quotient(product(ounce, gravity), inch)},
}

// unitsBySymbol finds a unit by any of its spellings.
var unitsBySymbol = func() map[string]*unit {
	m := make(map[string]*unit)
	for i := range unitList {
		for _, s := range unitList[i].symbols {
			m[s] = &unitList[i]
		}
	}
	return m
}()

func exact(s string) *big.Rat {
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		panic("models: no number: " + s)
	}
	return r
}

func product(factors ...*big.Rat) *big.Rat {
	p := big.NewRat(1, 1)
	for _, f := range factors {
		p.Mul(p, f)
	}
	return p
}

func quotient(a, b *big.Rat) *big.Rat { return new(big.Rat).Quo(a, b) }
