// # A cast in time
//
// Cast works through an overhead cast: the rod at rest with the lead hanging
// from its tip, the butt turned about the hand from one angle to another, the
// lead let go when its flight has come down to the launch angle, and the tip's
// swing after that.
//
// The frame stands still, x forwards and y upwards, its origin the hand.
// Angles are counted from x towards y: a rod upright stands at π/2, one laid
// back at more. The hand turns the butt by a polynomial of degree five in time,
// without speed or acceleration at either end,
//
//	ψ = from + (to − from)·(10u³ − 15u⁴ + 6u⁵),  u = t/time
//
// and carries the clamp on a circle of the radius Arm, r(0) = Arm·(cos ψ, sin ψ).
// Beyond it the rod is what it is in the bends: slender, inextensible, unknown
// only in the angle θ(s, t), with the place r = r(0) + ∫(cos θ, sin θ) ds, and
// all of the inertia of that, at any rotation (Simo and Vu-Quoc 1986, J. Appl.
// Mech. 53:849, without their shear, stretch and rotary inertia). With n =
// (−sin θ, cos θ), the pull T of the line on the tip and the point masses
// counted in μ, it moves so that for every change δθ
//
//	∫EI(θ′ + ηθ̇′)·δθ′ ds + ∫μ(r̈ − g)·δr ds − T·δr(L) = 0,  δr = ∫n·δθ ds
//
// The moment is elastic and viscous (Kelvin and Voigt); η = 2ζ/ω₁ gives the
// first mode the damping ζ, and higher modes more in proportion to their
// frequency. The drop is a massless line that pulls with T = EA·(l/drop − 1)
// where it is longer than slack and does nothing where it is shorter. The lead
// is a point.
//
// Elements, shape functions and Gauss points are those of the bends, so rest
// before the cast is the same equilibrium. A step from one time to the next
// takes the mean velocity of every point for that of the step, Δr = h(v + v⁺)/2,
// as Newmark's method of constant mean acceleration does (1959, J. Eng. Mech.
// Div. ASCE 85(EM3):67), and the balance above in its discrete form: δr with
//
//	n̄ = Δ(cos θ, sin θ)/Δθ
//
// curvatures and their rates by their means and differences over the step, and
// the tension by ΔU/Δl of the line's energy U. Then every term of the balance,
// with Δθ in the place of δθ, is the change of an energy: the work of the hand
// is found again as kinetic, stored, lifted and lost energy whatever the
// length of the step (Simo and Tarnow 1992, ZAMP 43:757; Gonzalez 1996, J.
// Nonlinear Sci. 6:449), and a long step makes no energy of its own. It is
// exact to second order. That the account closes therefore says that a step
// was solved, not that it was short enough. It also takes nothing from the
// shortest waves, which steps and elements cannot follow; a rod damped by half
// a percent or more loses them, but one without damping may be given up, with
// [ErrNoMotion], in a violent cast.
//
// A step is solved by Newton's method with the symmetric part of its matrix.
// What lies beyond a node costs it a quadratic form in its displacement and
// turn; an element adds itself and its two other unknowns are eliminated on
// the spot, from the tip to the clamp, and found on the way back. So the
// effort grows with the number of elements and no matrix is ever assembled, as
// with the articulated bodies of Featherstone (1983, Int. J. Robotics Res.
// 2(1):13).
//
// Steps are a two-hundredth of the first mode's period, twice that once only
// the tip swings, and never longer than a hundredth of the cast. For a rod of
// twelve feet with a joint and eight rings, a lead of 80 g and casts of 0.5 to
// 1.2 s they are within 0.2 % of the lead's speed, 0.4 % of the largest moment
// and curvature, 0.06 % of the frequency and 1.3 % of the time to a tenth that
// steps of 0.2 ms give; the speed of the tip at the release, which changes in
// a flash, within 3 %. The error of the elements is far smaller: a mesh of 24
// does as well as one of 96.
//
// The moment along the rod is the sum of what acts beyond, inertia included;
// the curvature is what is left of it without the viscous part, over EI. Both
// are those at the middles of the steps. The swing of the first mode is read by
// weighing the displacement from rest, square to the butt, with the mode's
// shape and the mass, its decay from the energy; both are those of the few
// periods watched, at the size that the swing has then.
//
// Left out, and the reasons for which a cast compares rods and promises no
// distance: the drag of the air on rod, line and lead; the line's mass, its
// path through the rings and its run after the release, which slows the lead;
// the give of hand and arm, and that no two casts turn the butt alike; masses'
// distances from the centreline; twist, and all that happens out of the plane.
// Nor does it say what a rod, a line or a knot will bear. A lead whose line
// parts in a cast injures badly: keep people clear, and let the makers' and the
// local rules come first.
//
// Sources are cited from memory. The tests hold a cast against the modes by
// Duhamel's integral, the mathematical pendulum, a pendulum led by its pivot,
// the frequencies of a rod that spins, and the bends at rest.
package beam
