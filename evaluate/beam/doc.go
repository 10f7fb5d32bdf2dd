// Package beam bends and swings a rod: slender, clamped at one end, of a
// stiffness and mass that vary along it and may jump, with point masses on it
// that may stand off its middle. It works in the plane at any rotation, in SI
// units and radians. It knows nothing of tubes and materials, and nothing of
// strength.
//
// # Signs
//
// The length s runs along the rod from the clamp at 0 to the tip at L. The
// clamp is the origin, x runs along the tangent there and y down, so that
// gravity acts along +y. The turn θ rotates x towards y; the tangent is
// t = (cos θ, sin θ), and n = (−sin θ, cos θ) points to the hollow side of a rod
// that bends downwards: offsets from the centreline count along n. The
// direction a of a pull is that of (cos a, sin a): 90° is square to the butt and
// down, more leans back towards the butt. Moments are positive where they turn
// the rod down.
//
// # Equations
//
// The rod neither stretches nor shears and obeys Euler and Bernoulli:
//
//	x′ = cos θ,  y′ = sin θ,  θ′ = κ = M/EI,  M′ = −t×F = F_x sin θ − F_y cos θ
//
// where F(s) is the sum of the dead loads beyond s: the force at the tip and, if
// asked for, the weight of everything between s and the tip. At the tip, and at
// a mass that stands off the centreline, the moment jumps by h·n×f for the force
// f there and its offset h. This is Euler's elastica (1744; Love 1927, A Treatise
// on the Mathematical Theory of Elasticity, art. 262) with a varying stiffness.
// Solutions make the potential energy
//
//	E[θ] = ½∫EI θ′² ds − ∫F·t ds − ∑ h n·f
//
// stationary. A rod stays where its second variation is positive.
//
// Stretching would move the tip of a carbon rod of 3.6 m by less than 1e-5 m at
// 5 N, shearing by some 1e-4 m; a section that flattens is left out as well.
//
// # Elements
//
// The unknowns are the turns at the nodes and, in every element, how much the
// turn at the middle exceeds the mean of the ends: θ is quadratic. Nodes stand
// at all jumps and masses; otherwise the elements are placed half evenly and
// half in proportion to √EI, over which a pull's bend decays. Three Gauss points
// integrate an element. Since F(s) is known beforehand, no term of E couples
// more than one element; the middle values are eliminated in their own element,
// and Newton's method solves one symmetric tridiagonal system a step, in a time
// in proportion to the elements.
//
// Places, turns and moments converge with the fourth power of the element
// length. Moments are integrated from the tip and curvatures are M/EI, one on
// either side of a jump; differentiating θ would lose an order.
//
// # Error
//
// [Rod.Refined] halves every element that is not short already. By the order of
// convergence what a figure changes by then is fifteen times the error that is
// left in the refined one; taken whole, it is a safe bound. [Solver.StartFrom]
// makes the second solution a matter of one or two steps.
//
// # The bend that is found
//
// At a large load the elastica has many solutions, loops among them, and
// Newton's method from a straight rod lands on any. So no step may change an
// angle by more than 0.6 rad or raise the energy (Armijo 1966); where E curves
// downwards a step uses the part of the second variation that does not; and a
// result counts only if all pivots of the second variation are positive and all
// turns lie between the butt's direction and those of the forces. Where forces
// act on the centreline and point to the rod's lower side that names one bend:
//
//   - There is one. Of all curves, the one of least energy lies there, since
//     reflecting what lies above the butt, or cutting off what lies beyond the
//     forces, lowers E.
//   - There is no other. With a the furthest of the forces' directions and
//     χ = θ + π − a, equilibrium reads −(EI χ′)′ = f(s, χ) with an f/χ that falls
//     as χ grows; such an equation has at most one positive solution (Brezis and
//     Oswald 1986).
//
// It is the bend that the load leads to as it grows from nothing, and it does
// not depend on where the search began. With offsets, which tilt this a little,
// it is only asked that the rod has not gone once round. If this fails from
// the last bend, the solver begins straight, and if that fails too it steps the
// force up from nothing. It gives a [Failure] rather than a doubtful shape.
//
// # The force for a turn or a drop
//
// [Solver.BendToTurn] and [Solver.BendToDrop] treat ln P as one more unknown and
// the target as its equation (Riks 1979), by two back substitutions a step. The
// turn only nears the pull's direction, as exp(−∫√(P/EI) ds): the forces for 85°
// and 88° are far apart, and a turn of 90° under a square pull takes an infinite
// one. Where Newton's method fails, the force is doubled until the target lies
// between two equilibria, and the stretch between them halved.
//
// # A line through rings
//
// A [Line] is made fast at the reel, runs through rings at their offsets and
// leaves the tip ring with the tension T in the fixed direction d. Where the
// rings are at p = r + h·n and ℓ is the length of a span, it adds to E
//
//	−T d·p_tip + T ∑ ℓ
//
// so that ring i bears T(u′ − u), the difference of the line's directions after
// and before it, at its offset, which is a moment too; and the rod between two
// rings bears, besides T d at the tip ring, −T u along their chord. A ring below
// a rod that bends down stands on the hollow side and has a positive offset, one
// under a reel on top a negative one. What is at s ≤ 0 is held and does not
// move.
//
// The chord D = p′ − p of a span is an integral of t and the offsets of its ends.
// In its second variation, δ²ℓ = u·δ²D + (v·δD)²/ℓ with v square to u, the first
// term acts within elements, as a load does; only the second ties distant
// angles together, by one vector a span. So the tridiagonal system stays, and
// a step corrects it by as many vectors as there are spans (Hager 1989). E is
// convex there if the tridiagonal part has as many negative pivots as the small
// matrix of the correction (Haynsworth 1968): the tridiagonal part alone need
// not be positive, since a line keeps the rod between its rings from buckling.
//
// Unlike a bare force the line may turn the tip beyond its own direction: the
// tip ring bears T(d − u), which points back towards the butt. As the tension
// grows further the turn comes back, so that a turn near the pull's direction
// may be met twice, or not at all. The window of turns is that of loads with
// offsets. That leaves room for other bends, but twenty thousand random rods
// with 3 to 15 rings, under tensions up to fifty times that which would move the
// tip by a length, all came to the bend of a tension grown in twenty parts.
//
// # Friction in the rings
//
// Over the turn φ of the line in a ring the tension changes by e^{μφ} (Euler
// 1769; Eytelwein 1808), with all rings sliding: it grows towards the reel for a
// positive coefficient, the line running in, and falls for a negative one, the
// line paying out. The tension beyond the tip ring is the one given. Friction
// has no potential, so the spans' shares of T are held for a bend and taken anew
// from its turns, until none changes by more than 1e-11.
//
// # The line on the blank
//
// A line above the bend, or any that would cut into the blank, lies on it:
// given the blank's radius, a span is the shortest line round the surface on
// its own side, a taut string. The surface is looked at in four places of every
// element, and the string is the convex hull of those beyond the chord (Graham
// 1972). A place on it is a ring without friction, which the line turns by φ in
// and can only press on; the forces T·φ add up to the T·κ per length of a
// smooth contact. The length of the hull and its first derivatives change
// without jumps as places join and leave it, so the method above stands; chords
// within one element do not even tie. The polygon lies up to κh²/8 inside the
// surface, h being a quarter of an element: errors fall with the square of h,
// and 60 elements give a rod of 3.6 m its tip to 2e-5 m and the length that
// touches to 2e-3 m. Where the line crosses from one side of the blank to the
// other it passes freely.
//
// # Against a finite element program
//
// The rod R1 of testdata/reference, a tube of 3.6 m, under 4.903325 N at its tip
// square to the butt and its own weight, whose tip turns by 81°, in CalculiX
// 2.20 (Debian package calculix-ccx), beams B32R with large deflections:
//
//	python3 calculix.py R1 4.903325 90 50 weight > r1.inp
//	OMP_NUM_THREADS=1 ccx -i r1
//	tail -1 r1.dat
//
//	                         x of the tip   y of the tip   one core
//	CalculiX, 50 elements    2.825750 m     1.652746 m     5.7 s
//	CalculiX, 100 elements   2.826416 m     1.652297 m     12 s
//	both, extrapolated       2.826638 m     1.652147 m
//	this package, 60         2.826644 m     1.652141 m     0.1 ms
//	shooting, DOP853         2.826644 m     1.652141 m
//
// CalculiX holds the stiffness constant within an element, so its error falls
// with the square of the element length; extrapolated it agrees to 7e-6 m. This
// package's 60 elements are 1.4e-8 m from shooting.
//
// # Modes
//
// [Rod.Modes] finds the small vibrations of the straight rod without weight and
// rotary inertia. It never forms a stiffness matrix: of short elements, as rings
// and joints make them, that loses all digits to rounding (1e-5 of a frequency
// with one element of 5 mm among a hundred). It works with the flexibility
// instead, the deflection by given inertia forces, found by integrating shear
// and moment from the tip and curvature and slope from the clamp with the
// three-stage Gauss rule (Butcher 1964), of sixth order. The rule's two
// directions are adjoint, so that the operator is symmetric in the mass, and
// Lanczos' process (1950) gives its largest eigenvalues 1/ω² from a handful of
// vectors.
//
// # Sources
//
//   - L. Armijo 1966, Pacific Journal of Mathematics 16:1 (descent).
//   - K. E. Bisshopp and D. C. Drucker 1945, Quarterly of Applied Mathematics
//     3:272 (the elastica's large deflections in closed form).
//   - R. D. Blevins 1979, Formulas for Natural Frequency and Mode Shape.
//   - H. Brezis and L. Oswald 1986, Nonlinear Analysis 10:55 (one positive solution).
//   - J. C. Butcher 1964, Mathematics of Computation 18:50 (Gauss rules).
//   - L. Euler 1769, Mémoires de l'académie des sciences de Berlin 18:265 (capstan).
//   - J. A. Eytelwein 1808, Handbuch der Statik fester Körper (the same).
//   - R. L. Graham 1972, Information Processing Letters 1:132 (convex hull).
//   - W. W. Hager 1989, SIAM Review 31:221 (corrections of low rank).
//   - E. V. Haynsworth 1968, Linear Algebra and its Applications 1:73 (inertia).
//   - C. Lanczos 1950, Journal of Research of the National Bureau of Standards 45:255.
//   - B. N. Parlett 1998, The Symmetric Eigenvalue Problem.
//   - E. Riks 1979, International Journal of Solids and Structures 15:529.
//
// They are cited from memory, but for the values that the tests compare with,
// whose origin stands beside them.
//
// It imports nothing of ours. A new load case is a method of [Solver].
package beam
