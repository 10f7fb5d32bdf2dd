package units

import "math/big"

// Dimension is what a quantity measures.
type Dimension struct {
	name    string // with its article, "a length"
	Unit    string // SI, as figures and fields name it
	usual   string // the unit a maker would most likely have meant
	Example string
	Bare    string // the unit of a number written without one; "" refuses it
}

// The dimensions that a type of quantity has are unexported: Of gives them.
var (
	length      = &Dimension{name: "a length", Unit: "m", usual: "mm", Example: "25 mm"}
	mass        = &Dimension{name: "a mass", Unit: "kg", usual: "g", Example: "12 g"}
	force       = &Dimension{name: "a force", Unit: "N", usual: "g", Example: "1.5 lb"}
	stress      = &Dimension{name: "a modulus", Unit: "Pa", usual: "GPa", Example: "110 GPa"}
	density     = &Dimension{name: "a density", Unit: "kg/m³", usual: "kg/m3", Example: "1550 kg/m3"}
	lineDensity = &Dimension{name: "a mass per length", Unit: "kg/m", usual: "g/m", Example: "9 g/m"}
	rigidity    = &Dimension{name: "a bending stiffness", Unit: "N·m²", usual: "N·m2", Example: "0.05 N·m2"}
	angle       = &Dimension{name: "an angle", Unit: "rad", usual: "deg", Example: "45 deg", Bare: "deg"}
	frequency   = &Dimension{name: "a frequency", Unit: "Hz", usual: "Hz", Example: "2.3 Hz"}
	duration    = &Dimension{name: "a time", Unit: "s", usual: "min", Example: "40 min"}
	share       = &Dimension{name: "a share", Unit: "1", usual: "%", Example: "3 %"}
	Ratio       = &Dimension{name: "a plain number", Unit: "1", usual: "", Example: "0.28", Bare: "1"}
	money       = &Dimension{name: "a price", Unit: "currency", usual: "", Example: "2.40", Bare: "currency"}
	inertia     = &Dimension{name: "a moment of inertia", Unit: "kg·m²", usual: "kg·m2", Example: "0.12 kg·m2"}
	stiffness   = &Dimension{name: "a stiffness", Unit: "N/m", usual: "N/m", Example: "12 N/m"}
)

// Of is the dimension that quantities of type U have.
func Of[U ~float64]() *Dimension {
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
	panic("units: a quantity type without a dimension")
}

// BySI is the dimension of an SI unit, of "1" that of plain numbers; nil where
// there is none.
func BySI(unit string) *Dimension { return bySI[unit] }

var bySI = func() map[string]*Dimension {
	m := map[string]*Dimension{}
	for _, d := range []*Dimension{
		length, mass, force, stress, density, lineDensity, rigidity, angle, frequency, duration, Ratio, money, inertia, stiffness,
	} {
		m[d.Unit] = d
	}
	return m
}()

// unit is one unit of measurement; symbols lists its spellings, the usual one
// first.
type unit struct {
	symbols []string
	dim     *Dimension
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
		panic("units: no number: " + s)
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
