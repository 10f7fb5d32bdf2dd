// Package laminate turns the plies rolled on a mandrel into the stiffness, mass
// and strain limits of the tube they make. All quantities are SI; angles are
// radians from the axis of the tube; strains are positive when stretched, while
// strain limits are magnitudes.
//
// # Equations
//
// Each ply is in plane stress. Its reduced stiffness Q in its own axes (Jones
// 1999, eq. 2.66) is
//
//	Q11 = E1/(1 − ν12·ν21)   Q12 = ν12·E2/(1 − ν12·ν21)   Q66 = G12
//	Q22 = E2/(1 − ν12·ν21)   ν21 = ν12·E2/E1
//
// and is turned into the axes of the tube (x along it, h round it, s the shear
// between them) by the usual fourth powers of sine and cosine (eq. 2.85). The
// wall as a flat laminate has A = Σ Q·t over the plies (chapter 4).
//
// A closed tube cannot curl, so all plies share the axial, hoop and shear
// strain at a place round the tube, and neither hoop force nor shear force
// acts there when the tube is bent or pulled. That fixes both other strains to
// the axial one, in the same ratio for all plies:
//
//	εh = −ν·εx   γ = −η·εx   with  Ahx − ν·Ahh − η·Ahs = 0,  Asx − ν·Ash − η·Ass = 0
//
// In bending εx grows with the distance from the axis, so with a ply between
// the radii a and b
//
//	EI = Σ (Qxx − ν·Qxh − η·Qxs) · π/4·(b⁴ − a⁴)
//	EA = Σ (Qxx − ν·Qxh − η·Qxs) · π·(b² − a²)
//	GJ = Σ (Qss + α·Qxs + β·Qhs) · π/2·(b⁴ − a⁴)
//
// where α and β are the axial and the hoop strain per unit of shear that leave
// no axial and no hoop force. For plies along the rod alone EI is E1 times the
// second moment of area, exactly.
//
// # Which of the usual formulas this is
//
// Ply by ply at true radii with the laminate's common Poisson contraction. The
// others, which the tests work out beside it, are left aside:
//
//   - rule of mixtures of isolated plies (each with its own 1/Ex): lets plies
//     at an angle shear and contract freely, which their neighbours prevent; a
//     tube of ±20° carbon comes out more than a fifth too soft;
//   - the laminate's Ex times the second moment of the whole wall: does not
//     see that an outer ply counts for more than an inner one; 2 % off with
//     one hoop ply inside a wall of 0.85 mm, more on a thick tip;
//   - the same with the thin-wall π·r³·t: short by (t/2r)² in addition, 16 %
//     where the wall is 0.8 of the mean radius.
//
// # Accuracy
//
// The tests solve the layered tube in three-dimensional elasticity (exact
// harmonics round the tube, finite elements through the wall) for carbon plies.
// The largest differences of EI, EA and GJ from it, over all angles, for a wall
// of 1 mm:
//
//	plies                              bore 10 mm   bore 2 mm
//	along the rod                      none         none
//	along, hoop inside or outside      0.15 %       0.4 %
//	along, some of both hands          0.4 %        2 %
//	at an angle throughout, balanced   0.5 %        4 %
//	along, some of one hand only       2.5 %        9 %
//	at an angle, all of one hand       3.5 %        25 %
//
// The scatter of prepreg moduli is larger (common practice, no source).
//
// # Strain limits
//
// The axial strain of the outer fibre, scaled to each ply's own outer radius,
// is turned into the strain along its fibres,
//
//	ε1 = εx·(cos² − ν·sin² − η·sin·cos)
//
// and held against the ply's limit in compression or tension: the maximum
// strain criterion along the fibres (Jones 1999, section 2.9). Left out are
// cracks between the fibres, which come first in hoop plies and leave a rod
// standing; splitting and delamination; stress at ends of plies, joints and
// ring feet. Where the wall buckles first is for Shell to say. An
// allowed strain is that of sound material at the first failing fibre, a basis
// to compare builds by and not a load that is safe to apply.
//
// # Not covered
//
// Shear deflection, the spine that the edges of plies make, resin pooled at
// those edges, sanding, and the curing strains of plies at different angles.
//
// # Sources
//
// Jones 1999, "Mechanics of Composite Materials", 2nd ed.; Tsai and Hahn 1980,
// "Introduction to Composite Materials"; Brazier 1927, Proc. R. Soc. A 116;
// Lekhnitskii 1963, "Theory of Elasticity of an Anisotropic Elastic Body". All
// are cited from memory, numbers of equations included; the formulas are held
// by tests against tensor rotation and three-dimensional elasticity instead.
//
// It imports nothing of ours.
package laminate
