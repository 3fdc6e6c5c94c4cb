#pragma once

/// Every numeric tolerance of the core: name, value, unit and the reason for it.
namespace tearline::tolerance {

/// [mm] vertices of a model nearer than this are one vertex (DEFINITIONS.md, Bars).
inline constexpr double weld = 1e-3;

/// [-] 4 float ulp relative to the model's extent: STL stores 24-bit coordinates.
inline constexpr double weld_relative = 4.0 / (1 << 23);

/// [-] barycentric weights this far below zero still count as inside, so that a point on an edge
/// shared by two triangles is found in one of them.
inline constexpr double barycentric_slack = 1e-9;

/// [-] a geodesic that meets a vertex passes it this fraction of the edge to the side.
inline constexpr double vertex_nudge = 1e-7;

/// [rad] half turns of an arc below this use the series of x / sin x, exact to 2e-12 there.
inline constexpr double series_angle = 0.1;

/// [mm] a point carried to the exact surface is at the foot of its normal to within this.
inline constexpr double foot = 1e-6;

/// [-] parameter directions with a smaller sine between them, or shorter than this against each
/// other, mark a pole of a CAD face, where they give no normal.
inline constexpr double pole_sine = 1e-7;

/// [mm] how far from a pole the surface is looked at to learn its normal there.
inline constexpr double pole_nudge = 1e-3;

/// [-] parameters of a CAD face closer than this (of their size) are the same.
inline constexpr double same_parameters = 1e-9;

/// [-] sine by which two opposite angles must exceed 180 degrees before an edge is flipped: four
/// corners on one circle would flip to and fro for ever.
inline constexpr double delaunay = 1e-9;

/// [-] cotangents of sliver corners are held to this size when a chart is made, so that one sliver
/// does not outweigh a thousand sound triangles.
inline constexpr double most_cotangent = 50.0;

/// [mm] a chart is at rest when no vertex moves farther in one step: it need only be near-isometric.
inline constexpr double chart_rest = 0.05;

/// [-] cosine lost between two normals of a mesh vertex that still count as one.
inline constexpr double same_normal = 1e-6;

/// [deg] faces of a CAD model that meet at less than this are one smooth surface: exchange files
/// carry tangent joints to some tenths of a degree.
inline constexpr double cad_crease_degrees = 1.0;

/// [-] share of a corner's normals in a direction below which it has no say where the skin moves it.
inline constexpr double flat_corner = 1e-4;

/// [-] a chart that stretches lengths beyond these bounds is no plan of a panel but of a tube.
inline constexpr double least_chart_stretch = 0.2;
inline constexpr double most_chart_stretch = 5.0;

/// [mm2] a damage outline round less than this is a line there and back, or a slip of the pen.
inline constexpr double damage_least_area = 1.0;

/// [mm] outline points farther than this from the hull are refused (job file contract).
inline constexpr double outline_reach = 20.0;

/// [mm] facets of a mesh less high than this and so many times as long are needles, whose corners say
/// nothing of the direction of the surface between them: meshes are made to about a millimetre.
inline constexpr double needle_height = 1.0;
inline constexpr double needle_shape = 50.0;

/// [deg] edges turning more than this are creases when a mesh has no normals of its own.
inline constexpr double crease_degrees = 30.0;

/// [mm] how near the innermost point of an outline is to the true one; it only places a datum.
inline constexpr double innermost_point = 0.1;

/// [deg] a direction nearer than this to the normal gives no arrow on a template
/// (DEFINITIONS.md, Flat frame).
inline constexpr double transom_degrees = 20.0;

/// [deg] up nearer than this to the normal's line is a bottom or a deck (DEFINITIONS.md, Flat
/// frame): the bow points to the top of the paper there.
inline constexpr double bottom_degrees = 30.0;
/// [mm] points of a chart curve nearer than this are one point: far below what a knife follows.
inline constexpr double chart_merge = 1e-3;

/// [mm] how far the edges of a ply's mesh may leave its outline: a seventh of the 0.1 mm bar.
inline constexpr double outline_chord = 0.015;

/// [rad] outlines that turn by more than this at a point have a corner there (15 degrees).
inline constexpr double outline_corner = 0.2618;

/// [-] sine by which two opposite angles must exceed a half turn for their edge to be flipped:
/// the diagonals of a square must not flip for ever.
inline constexpr double flip_gain = 1e-3;

/// [-] which side of a crease a corner belongs to is read this far from it towards its triangle.
inline constexpr double crease_side = 1e-3;

// Surfaces at depth.

/// [mm] girth lost at a crease below which its sheets are not trimmed but mitred.
inline constexpr double least_trim = 0.02;

/// [mm] girth by which a mitre may exceed the arc that an opened crease should have.
inline constexpr double mitre_error = 0.005;

/// [mm] a ridge point has settled when its feet move less than this.
inline constexpr double ridge_step = 1e-7;

/// [-] steps after which a ridge point is given up; each is depth x curvature times the one before,
/// 0.9 times beside the facets of a coarse mesh.
inline constexpr int most_ridge_steps = 400;

/// [-] sine of the turn at a crease under which its sheets have no ridge to speak of.
inline constexpr double flat_crease = 1e-4;

/// [mm] between the nodes of a trimmed strip: its edges bend by less than 0.01 mm in that.
inline constexpr double strip_spacing = 5.0;

/// [-] nodes that a strip may go on beyond the mesh, for an outline nearly along the crease.
inline constexpr int most_strip_steps_beyond = 80;

/// [-] a vertex nearer to a cut than this share of its edge is moved onto it: no slivers.
inline constexpr double snap_share = 0.3;

/// [mm] a hole in a net region is one where the marched distance passes the region's offset by more
/// than this: marching is as long as that, and a narrower hole could not be cut.
inline constexpr double hole_certain = 2.0;

/// [mm] two ends of a cut on an outline nearer than this are one.
inline constexpr double jog = 0.02;

/// [rad] most turn of one segment of an opened crease's arc.
inline constexpr double arc_segment = 0.53;

/// [-] share of a ply that a strip trimmed over the middle of the damage may take.
inline constexpr double trimmed_share = 0.25;

/// [-] least cosine between a triangle at depth and its normals: beyond it the sheet has folded.
inline constexpr double fold_cosine = 0.2;

// Flattening.

/// [-] how far an edge may exceed the sum of the other two, by its own length: arcs of a sliver
/// across a crease can, a folded triangle does by more.
inline constexpr double triangle_excess = 1e-2;

/// [-] least height of a triangle by its longest edge: a flatter one is held this high, so that a
/// sliver stiffens its place a little and cannot spoil the solve.
inline constexpr double sliver_height = 1e-3;

/// [-] sum of the principal stretches under which a triangle has no direction of turning.
inline constexpr double no_stretch = 1e-12;

/// [-] area that the mean normal must still see, by the whole: below it there is no best plane.
inline constexpr double facing_share = 0.05;

/// [-] vertices from which the supernodal factor is faster than the column-by-column one.
inline constexpr int supernodal_from = 50000;

/// [-] residual of a Newton direction by its first one, in the Laplacian's norm.
inline constexpr double newton_solve = 0.05;

/// [-] the same where a flat shape follows a change of its lengths in one step.
inline constexpr double response_solve = 1e-3;

/// [-] conjugate gradient steps after which a Newton direction is taken as it is.
inline constexpr int most_conjugate_steps = 200;

/// [-] share of the foreseen gain that a step must bring (Armijo).
inline constexpr double armijo = 1e-4;

/// [-] rise of the energy that is rounding and no rise.
inline constexpr double energy_rounding = 1e-12;

/// [-] shortest part of a step that is tried.
inline constexpr double least_line_share = 1e-6;

// Job and ply levels.

/// [-] sine of 1 degree: bow and up nearer to parallel than that name no plane.
inline constexpr double least_bow_up_sine = 0.0175;

/// [mm] `fill` counts as full when it is less than this short (job file contract).
inline constexpr double fill_short = 0.1;

/// [mm] a stack farther than this from the depth is warned of (DEFINITIONS.md, Edges).
inline constexpr double stack_off_depth = 0.5;

/// [mm] less floor than this under the dish is warned of: it flexes under the roller.
inline constexpr double least_floor = 1.0;

/// [C] and [%] gel data count only this near to what they were measured at (DEFINITIONS.md, Resin).
inline constexpr double gel_temperature = 2.0;
inline constexpr double gel_percent = 0.1;

/// [-] rounding of short decimals that must not push a figure over a limit it stands on.
inline constexpr double decimal_rounding = 1e-9;

/// [mm] heights nearer than this are one level: far below what a ply can be laid to, far above
/// the rounding of a sum of thicknesses.
inline constexpr double level = 1e-6;

/// [mm] edges of CAD faces nearer than this are sewn: what exporters leave between good faces.
inline constexpr double sewing = 0.1;

/// [-] deflection of the coarse mesh of a CAD hull over its diagonal: 7 mm on a 7 m hull, fine
/// enough to find faces and topology; the neighbourhood of a repair is meshed anew.
inline constexpr double mesh_deflection_relative = 1e-3;

/// [rad] most that the normal turns over one triangle of that coarse mesh.
inline constexpr double mesh_turn = 0.35;

/// [-] a hull whose volume is below this times area^1.5 does not say which way is out
/// (DEFINITIONS.md, Outward).
inline constexpr double outside_volume = 0.005;

/// [mm] an open edge this near to one plane holding bow and up is a half hull's centreline
/// (DEFINITIONS.md, Edges).
inline constexpr double centreline = 1.0;

// Cloth as a net of yarns.

/// [-] of the spread of the triangles round a vertex, added to hold the slope of a plane fitted
/// through them where they lie in line.
inline constexpr double plane_fit_hold = 1e-6;

/// [-] of a cell: a crossing of yarns is found when it moves by less.
inline constexpr double net_node = 1e-9;

/// [-] of a cell: a crossing that still moves to and fro by less is found well enough. Beyond the rim
/// the metric jumps where another stretch of the rim comes nearest, and there is nothing to meet.
inline constexpr double net_jump = 1e-2;

/// [-] sine of the angle between warp and weft under which the cloth is shut (3 degrees).
inline constexpr double net_shut = 0.05;

/// [-] steps after which a crossing is taken for none; near a shut cell it may take a dozen.
inline constexpr int most_net_steps = 25;

// Pieces.

/// [deg] shear that another start or axis must save before the one asked for is left: less is lost
/// in how well cloth is pressed down by hand.
inline constexpr double shear_gain = 0.5;

/// [mm] edges whose chart places lie this near to a seam belong to it: the ridge of a trimmed
/// crease stands a little off the straight line.
inline constexpr double beside_seam = 0.05;

/// [mm] a lap is joined to its piece over so much of it: edges that only meet leave hairline slits,
/// and no cloth is cut so true that it shows.
inline constexpr double seam_overlap = 0.05;

/// [-] help for a ply is tried though it is reckoned to leave so many times the limit: the reckoning
/// is that rough.
inline constexpr double help_hope = 1.6;

/// [-] a strip of cloth is laid to see whether it fits its roll though it is so many times too wide in
/// the chart: charts of hulls are true to a few in a hundred.
inline constexpr double chart_width = 1.15;

/// [-] a closer search for the start is tried though the best of the wide one leaves so many times the
/// limit: it takes off a tenth or so.
inline constexpr double laying_hope = 1.3;

/// [-] of the limit: what each cut is hoped to take off.
inline constexpr double cut_hope = 0.5;

/// [mm] rest of a flattening that is only compared with others: a fiftieth of the 10 mm discs that
/// its strain is averaged over moves that by far less than the limits are known.
inline constexpr double trial_movement = 0.2;

/// [mm] vertices of a mesh nearer than this to a line of the chart that it was made for lie on it:
/// the meshing merges points at chart_merge.
inline constexpr double on_chart_line = 5e-3;

/// [-], [deg] strain and shear under which a piece has none worth a place: the bars of developables
/// (DEFINITIONS.md, Bars).
inline constexpr double no_strain = 1e-4, no_shear = 0.05;

/// [mm] diameter of the discs that strain and shear are averaged over (DEFINITIONS.md, Mat).
inline constexpr double strain_disc = 10.0;

/// [rad] directions of the damage outline that differ by more than this make a corner: a front
/// of rays needs more than one direction there.
inline constexpr double outline_kink = 0.02;

/// [mm] rays of a corner's two sides set out so far from it: far below what a front shows.
inline constexpr double beside_corner = 0.002;

/// [mm] rays that set out nearer to each other than this are as one.
inline constexpr double closest_rays = 1e-3;

/// [mm] rays that set out as one and are farther apart than this have parted at a vertex.
inline constexpr double rays_parted = 0.1;

/// [mm] which triangle a direction leads into is looked up so far ahead.
inline constexpr double look_ahead = 1e-4;

/// [mm] a straight line meets the rim it starts on again no earlier than this.
inline constexpr double rim_restart = 1e-6;

/// [mm] gaps between strips of rays that are still read across: chords of a curved rim.
inline constexpr double between_strips = 0.2;

/// [mm] a way round a corner that is shorter by less than this is no shorter.
inline constexpr double shadow_gain = 1e-3;

/// [rad] a fan keeps so far off the rim on both sides, so that its rays set out on the patch.
inline constexpr double fan_rim = 1e-5;

/// [rad] fans of neighbouring vertices overlap by this, so that no gap stays between them.
inline constexpr double fan_overlap = 0.02;

/// [mm] steps of Clipper's integer grid: a tenth of the 1e-4 mm that outlines are kept to.
inline constexpr double clipper_grid = 1e-5;

/// [mm2] parts and gaps of a region smaller than this cannot be cut: rounding made them.
inline constexpr double least_island = 1.0;

/// [mm] points of a net line are left out where the line stays this close without them.
inline constexpr double net_line_chord = 0.002;

/// [mm] a hull's end within this of a plane through bow and up is a centreline (DEFINITIONS.md).
inline constexpr double centre_plane = 1.0;

/// [rad] where the hull's end turns by more than this, one end stops and another begins (30 degrees).
inline constexpr double end_corner = 0.5236;

/// [mm] a place this far inside the rim is asked whether it belongs to a region cut by the rim.
inline constexpr double rim_inset = 0.05;
// Templates and files.

/// [mm] how far the rounded corner of a tear line may lie inside the true arc (issue: 0.01).
inline constexpr double tear_rounding = 0.005;

/// [mm] points of a net line nearer than this to the hull's end lie on it: more than the chords of
/// the rim miss of it, less than the steps of the net line.
inline constexpr double on_hull_end = 0.2;

/// [mm] arrows of a template whose tips lie nearer than this are one arrow to the eye.
inline constexpr double same_arrow = 1.0;

/// [mm] points of an outline nearer than this to the line through the others are left out: a tenth
/// of what a cutter can follow, so that every file holds the very polygons of the plan.
inline constexpr double outline_thinning = 0.005;

/// [mm] two points of a cutter's line nearer than this are one: files hold steps of 1e-4 mm, and
/// machines stumble over points that lie on each other.
inline constexpr double cutter_same_point = 1e-3;

/// [-] tangent of a quarter of an arc's angle up to which a run of points becomes one arc: below a
/// half turn (1) its middle is told apart from its chord without doubt.
inline constexpr double arc_bulge = 0.4;

/// [mm] one step of the whole numbers that polygon clipping counts in: 10 m are 1e9 of them.
inline constexpr double clipper_step = 1e-5;

/// [mm] outlines are this coarse where only room for text is looked for.
inline constexpr double label_room = 1.0;

/// [mm] how much of the hull beyond the footprint is meshed: section cards rest on sound surface.
inline constexpr double patch_margin = 50.0;

/// [mm] how far a point of the outline may be dragged before the hull about it is meshed anew.
inline constexpr double drag_room = 80.0;

/// [mm] a point of the damage outline is at the foot of its normal to within this.
inline constexpr double outline_foot = 1e-5;

/// [mm] a straight way that is aimed at a point ends this near to it.
inline constexpr double straight_way_miss = 1e-4;

/// [mm] chords of the damage outline follow the curve to this.
inline constexpr double damage_chord = 0.01;

/// [mm] the longest chord of the damage outline, however straight it runs.
inline constexpr double damage_spacing = 5.0;

/// [mm] points of a smooth damage outline nearer than this to the one before crowd about a place
/// where its curve jumps (a disc's ways from the centre part at a vertex); no bend asks for them.
inline constexpr double damage_crowd = 0.1;

// Small radii.

/// [mm] diameter of the discs over which curvature is averaged, as strain.max is.
inline constexpr double curvature_disc = 10.0;

/// [-] least share of a radius that is left at depth: beyond the centre there is none.
inline constexpr double least_radius_share = 1e-3;

/// [1/mm] curvature below which a place is flat: a radius of a kilometre.
inline constexpr double flat_curvature = 1e-6;

/// [deg] creases that turn less than this are no tight place for cloth.
inline constexpr double slight_crease_degrees = 5.0;
/// [mm] a corner of an outline is one from this far away too: jogs where fronts cross are not.
inline constexpr double corner_arm = 0.5;

/// [mm] spikes of a net line narrower than this are no part of it: a tenth of a knife's edge.
inline constexpr double spike_width = 0.005;
/// [mm] outlines are this coarse, on the safe side, while they are nested: a fifth of the gap.
inline constexpr double nest_coarseness = 1.0;

/// [mm] the same for hollow shapes, whose no-fit polygons cost the product of their points.
inline constexpr double nest_hollow_coarseness = 4.0;

/// [mm] open edges of a mesh nearer than this are joined: what mesh exporters leave between faces.
inline constexpr double stitch = 0.1;

/// [mm] a model that reaches farther than this was given the wrong unit: 1 km.
inline constexpr double largest_model = 1e6;

/// [mm] a model larger or smaller than this is seldom a hull: its unit is asked about.
inline constexpr double longest_hull = 60'000.0;
inline constexpr double shortest_hull = 5.0;

/// [-] sine of 10 degrees: a hull that meets a plane at less lies along it and is no half of a hull
/// cut there; facets of 1 mm deflection turn by less on any radius above 70 mm.
inline constexpr double centreline_sine = 0.17;

/// [-] two straight edges whose lengths are alike to this share are a keel and a sheer.
inline constexpr double centreline_alike = 0.75;

/// [-] of all open edges of a hull, how much must lie in one plane to be a centreline; less is the
/// sheer passing its widest place.
inline constexpr double centreline_share = 0.1;

/// [-] skins nearer than this times the hull's diagonal are two faces of one laminate: 120 mm on a
/// 6 m boat, more than any single-skin or cored laminate of hand lay-up.
inline constexpr double skin_share = 0.02;

/// [-] least ratio of the areas of the two faces of one skin.
inline constexpr double skin_likeness = 0.5;

/// [-] mean cosine to the way out of the boat above which a region belongs to a skin and not to
/// the rim between two.
inline constexpr double skin_facing = 0.1;

/// [-] |du x dv|^2 below this times |du|^2 |dv|^2 is a pole of the face, where no curvature is read.
inline constexpr double degenerate_parameters = 1e-8;

/// [mm] radii above this are told as flat: 1 km.
inline constexpr double largest_radius = 1e6;

/// [mm] an edge of a mesh bulging more than this is meant so, however short: beyond rounding.
inline constexpr double mesh_bulge = 0.2;

/// [mm] crease warnings of several plies this near to each other are told once.
inline constexpr double same_crease = 150.0;

/// [mm] flattening ends when no vertex moves more than this: energy is a poor measure of an edge
/// (within 2e-5 of the least it can still be 0.15 mm off).
inline constexpr double flat_movement = 1e-3;
// Hulls measured by hand.

/// [mm] no reading with tape, batten or gauge is finer than this: a surface that passes nearer to
/// every figure is not fairer for it.
inline constexpr double reading_floor = 0.05;

/// [-] share of a table's figures that must be left over before their scatter can be told.
inline constexpr double least_freedom = 0.02;

/// [-] a figure was mistyped or misread when chance would put it so far off, by what the others
/// scatter, no oftener than it puts a normal variate this many deviations off: once in some
/// thousand tables.
inline constexpr double slip_deviates = 5.0;

/// [mm] and when it is off by more than this: readings are good to half a millimetre.
inline constexpr double slip_least = 0.75;

/// [mm] gaps under a batten that disagree by more than this were not read off one hull.
inline constexpr double suspicious_figure = 3.0;

/// [rad] no patch measured by hand is drawn farther round than this to each side: beyond 70 degrees
/// its own plan folds.
inline constexpr double measured_turn = 1.2;

/// [mm] steps by which a measured surface is varied to see what its gaps do.
inline constexpr double measured_step = 1e-3;

/// [rad] arcs that turn less than this are straight but for their next term.
inline constexpr double straight_turn = 1e-4;

/// [mm] a surface that misses one of the figures it was drawn from by more than this is warned of:
/// readings are good to half a millimetre.
inline constexpr double measured_miss = 1.0;

/// [mm] figures of a hull that contradict each other by more than this are refused: the templates
/// would be wrong by more than torn edges hide.
inline constexpr double contradicting_figure = 10.0;

/// [mm] gaps of a measured surface are met when no step moves it farther than this.
inline constexpr double measured_rest = 1e-7;

// Points by tape.

/// [-] cosine below which a direction does not tell two places apart (6 degrees).
inline constexpr double taped_side = 0.1;

/// [mm] three tapes that end farther apart than this were misread.
inline constexpr double tape_disagrees = 5.0;

/// [-] and below this they say nothing of where along them the point lies: 1 mm moves it 50 mm.
inline constexpr double tape_blind = 0.02;

/// [-] sine of the angle between two tapes below which they meet flat: 1 mm moves the point 6 mm.
inline constexpr double tape_flat = 0.17;

// Soundings.

/// [mm] two soundings of one place may differ by this: what a gauge reads twice.
inline constexpr double sounding_differs = 1.0;

/// [mm] soundings nearer to each other than this are one.
inline constexpr double sounding_repeated = 1.0;

/// [mm] and [-] a sounding is named when the others foretell it this much worse, and this many
/// times worse than they foretell most.
inline constexpr double sounding_outlier = 1.5;
inline constexpr double sounding_scatter = 4.0;

/// [mm] soundings this near to the deepest one are of its floor: the least step of a depth gauge and
/// half of the next, so that a reading's last figure decides and no rounding.
inline constexpr double sounding_floor = 0.15;

/// [mm] a straightedge's height over the surface is found this exactly: a thousandth of what a gauge
/// reads.
inline constexpr double straightedge_height = 1e-4;

/// [mm] ends of a straightedge that move less in a step stand where they stand.
inline constexpr double straightedge_settled = 0.01;

/// [mm] where the hull ends under a straightedge, its going on straight may stand so far over the
/// edge: less than a gauge reads.
inline constexpr double straightedge_beyond = 0.05;

/// [mm] a depth told by soundings alone is found this exactly: a hundredth of what a gauge reads.
inline constexpr double sounded_depth = 1e-3;

/// [mm] a dish is no deeper than this where the skin is not known: small hulls laid by hand are
/// thinner (common practice).
inline constexpr double thickest_skin = 25.0;

/// [-] cosine of the turn beyond which a surface is a wall that no straightedge lies on.
inline constexpr double straightedge_wall = 0.1;

/// [mm] the ground may stand so far over a straightedge before it is told that it cannot have lain
/// like that: what a smooth surface through soundings swings by between them.
inline constexpr double straightedge_rocks = 0.5;

/// [mm] the surface through soundings may lie so far below one that it should not lie below:
/// rounding of the solve.
inline constexpr double plate_below = 1e-6;

/// [mm] level curves lie this near to their level's place.
inline constexpr double contour = 1e-3;

/// [mm] no point of a level curve is moved farther than this from the grid that found it.
inline constexpr double contour_reach = 5.0;

/// [mm] pieces of cloth narrower than this are slivers that nobody can lay.
inline constexpr double sliver = 25.0;

/// [mm] tails, necks and inlets of a ply narrower than this are no shape to cut.
inline constexpr double scissors = 10.0;

/// [mm2] nor is a tail or inlet smaller than this worth a cut: a rounded corner.
inline constexpr double least_tail = 25.0;

/// [-] by how much of the ratio's own slope the ground may be steeper before it is shown.
inline constexpr double steeper_share = 0.1;

/// [mm] less than this is not ground off by hand.
inline constexpr double least_grind = 0.3;

/// [mm3] nor a spot that holds less than this: a square centimetre of the least depth.
inline constexpr double pinch_of_dust = 30.0;


/// [mm] a ply whose edge lies within this of the scarf's end reaches over all the ground glass:
/// no eye sees less, and thicknesses from data sheets are rounded to it.
inline constexpr double scarf_rim = 1.0;

}  // namespace tearline::tolerance
