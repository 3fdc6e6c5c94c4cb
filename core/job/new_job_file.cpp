#include "core/job/new_job_file.h"

namespace tearline::job {

std::string_view new_job_file() {
    return R"(# A Tearline job: one repair of one place. Next: tearline plan THIS-FILE -o FOLDER
#
# Lengths are numbers of mm, or text with a unit: "25 mm", "2.5 cm", "1 in", "3/4 in", "1 ft", "20 mil".
# Weights of cloth always carry a unit: "450 g/m2", "1.5 oz/ft2" (mat), "24 oz/yd2" (woven).
# A key behind "#" shows its default or its form; take the "#" away to change it.

tearline = 1                        # version of this file
title = "My repair"
# display_units = "metric"          # or "us": what sheets show first

[hull]
model = "hull.step"                 # .step .stp .iges .igs .brep .stl .obj .ply, beside this file
# unit = "mm"                       # needed for .stl .obj .ply: "mm", "cm", "m", "in" or "ft"
bow = [1, 0, 0]                     # direction of the bow in the model
up = [0, 0, 1]                      # upward direction, not parallel to bow
# surface = "outside"               # which face of the skin the model is: "outside" or "inside"
# skin = "8 mm"                     # thickness of the skin; measure it. Needed when the repair is on the other face
# outward = "auto"                  # "auto", "as modelled" or "reversed": which way the model faces
# mirror = true                     # the model is half a hull: true adds the other half, false says its edge is real

# No model? Measure instead (tearline new --measuring-sheet): take out model and put in one of the next three tables.
# With the first two, x, y lie in the plane you face, z towards you: bow = [1, 0, 0] where the bow is to your
# right and [-1, 0, 0] where it is to your left, up = [0, 1, 0]; points may then be [x, y].
#   [hull.measured]
#   batten = "600 mm"                 # straight; on its middle where the hull bulges, on its ends where it is hollow
#   gap_along = "9 mm"                # along the bow direction: at both ends (their mean), or -gap at the middle of a hollow
#   gap_across = "21 mm"              # the same across it
#   gap_along_ends = [8, 10]          # along again, half a batten below and above; 0, 0 is the middle of both battens
#   gap_across_ends = [20, 23]        # across again, half a batten aft and forward
#   [hull.grid]
#   spacing_along = "100 mm"          # between figures of a row
#   spacing_across = "100 mm"         # between rows
#   offsets = [[30, 22, 20, 23], [26, 18, 16, 19], [27, 19, 17, 20]]  # plane to hull; lowest row first, from aft
#   [hull.sections]
#   stations = [0, 500, 1000]         # x towards the bow; z up; half-breadths to one side
#   waterlines = [0, 150, 300]
#   half_breadths = [[310, 420, 480], [330, 445, 505], [335, 450, 512]]  # a row for each station
#   side = "port"                     # or "starboard"

# Points of the hull outside the grinding to measure from by tape. Any point may then be
# {A = "412 mm", B = "655 mm", side = "up"}; side: "up", "down", "forward", "aft", "port" or "starboard".
#   [marks.A]
#   at = [2600, 900, 400]             # or, without a model: A aft and B forward of the middle, no at for either,
#   [marks.B]
#   A = "900 mm"                      # and their distance by tape

[damage]
# By points picked round it, three or more, in order (mm in the model, within 20 mm of the hull):
# outline = [[3000, 700, 200], [3100, 720, 220], [3050, 680, 280]]
# join = "smooth"                   # or "straight": shortest ways on the surface
# or round a centre, with radius, or with length (along the bow direction) and height (across it), both full:
centre = [3000, 780, 197]
radius = "80 mm"
# length = "200 mm"
# height = "120 mm"
depth = "6 mm"                      # how deep the damage is ground out
# side = "outside"                  # the face the glass is laid from: "outside" or "inside"
# The dish as it was really ground: 5 to 200 soundings; zero depth on the edge of what was ground.
# round = "floor"                   # what the outline goes round: "floor" (the scarf beyond it) or "ground area"
#   [[damage.sounding]]
#   at = [3010, 785, 185]
#   depth = "5.4 mm"                  # without damage.depth the deepest one gives it
#   from = "straightedge"             # or "gauge", "section" (square from the old surface)
#   length = "600 mm"                 # of the straightedge, its middle over the point
#   direction = "along"               # or "across", or degrees from the bow
#   after = 3                         # taken on the cured work after ply 3, for tearline plan --after 3

[scarf]
# ratio = 12                        # mm out for each mm up
# least_step = "0 mm"               # a ply's edge lies at least this far outside the one before
# safety_factor = 1.5               # for the scarf check
# bond_shear = "8 MPa"              # strength of the bond, from a data sheet; no default

[layup]
# order = "smallest first"          # or "largest first"
# The plies in the order of laying; axis: degrees from the bow direction, axis_free: degrees it may turn
# stack = ["mat 450", {fabric = "roving 600", axis = 0, axis_free = 0}, "mat 450"]
# or a cloth, or a list in turn, repeated until the depth is full:
# fill = "mat 450"
# fill_to = "thickness"             # or "stiffness", "strength": the fewest that match the old laminate
# cover = ["mat 300", "mat 300"]    # above the base surface, there to be sanded back; [] for none
# cover_step = "25 mm"              # how far each cover lies outside the widest edge before it
# press_first = [3000, 780, 197]    # where cloth is pressed down first; default the middle of the damage
# position = "flat"                 # "flat", "vertical" or "overhead": fewer plies a stage
# copies = 1                        # sets of templates on the rolls

# Built in: mat 225, 300, 450, 600; roving 600, 800; biaxial 400, 600, 800; cloth 200, 300 ("cloth 200").
# A table of the same name changes what it names; a new name needs kind and weight.
# [[fabric]]
# name = "mat 450"
# kind = "mat"                      # "mat", "woven" or "biaxial"
# weight = "450 g/m2"               # dry glass
# glass_content = 0.30              # by mass: mat 0.30, woven 0.48, biaxial 0.50
# thickness = "1.05 mm"             # of the laid ply; default from weight and glass content
# binder = "emulsion"               # mat: "emulsion" or "powder" (epoxy needs powder)
# roll_width = "1250 mm"
# tear_margin = "20 mm"             # mat: band torn thin outside the edge
# lap = "50 mm"                     # woven, biaxial: at seams
# strain_limit = 0.05               # mat
# shear_limit = 40                  # woven, biaxial: degrees
# least_radius = "8 mm"             # mat 8, woven 20, biaxial 15
# From the data sheet of the cloth as laid, each in place of a formula; no defaults:
# modulus = "6.4 GPa"               # along the warp, and across unless modulus_across says otherwise
# modulus_across = "6.4 GPa"
# shear_modulus = "2.75 GPa"
# poisson = 0.3
# tensile_strength = "85 MPa"
# compressive_strength = "117 MPa"
# flexural_strength = "152 MPa"
# shear_strength = "62 MPa"

[resin]
# kind = "polyester"                # "polyester", "vinylester" or "epoxy"
# density = 1.13                    # g/mL, of the liquid resin; epoxy: of its resin part alone. Vinylester, epoxy: no default
# cured_density = 1.20              # g/cm3; epoxy 1.15 (from memory); vinylester: from its data sheet, required
# hardener_percent = 1.25           # polyester 1.25, by mass; vinylester: from its data sheet, required
# hardener_parts = [5, 1]           # epoxy: resin, hardener, with hardener_basis; both required
# hardener_basis = "mass"           # or "volume": of hardener_percent and of hardener_parts alike
# hardener_range = [1.0, 2.0]       # percent that the data sheet allows; outside it is refused. Vinylester: no default
# hardener_density = 1.15           # g/mL, from its data sheet. Vinylester, epoxy: no default, and then no mL beside the grams
# The gel time from the data sheet or a test cup, with what it was measured at; no default:
# gel_minutes = 20
# gel_at = {temperature = 20, percent = 1.25, mass = "100 g"}   # epoxy: without percent, its ratio is fixed
# least_temperature = 15            # Celsius; a colder shop is refused
# recoat_hours = 24                 # later than this: wash and abrade before the next ply
# waxed = false
# cup = "250 g"                     # most that is mixed at once
# waste = 0.10                      # share left in cups, rollers and brushes
# prime = "150 g/m2"                # resin over the ground area before the first ply
# drops_per_mL = 33                 # count your own; no default
# can = "5 kg"                      # size that resin is sold in, by mass or volume ("1 qt", the default in US units)

[topcoat]                           # over epoxy goes none but what you write here: nothing is then its default
# finish = "sacrificial"            # sanded off; or "final": the glass then ends lower by its thickness
# thickness = "20 mil"              # wet
# density = 1.25                    # g/mL
# hardener_percent = 2.0            # by mass
# hardener_range = [1.2, 3.0]

[laminator]
# wet_out_rate = 0.05               # m2 a minute
# use_fraction = 0.6                # of the gel time

[shop]
# temperature = 20                  # Celsius, of shop, hull and resin
# stage_thickness = "4.3 mm"        # most that is laid wet on wet in one go
# cutting_gap = "5 mm"              # between pieces on the roll
# hours_between_stages = 16         # as you plan the work; past recoat_hours it is warned of; no default
# fairing_skim = "0.3 mm"           # of fairing compound over all, for pits and pinholes

# What was there before, for comparison: thickness and kind, or a stack as above, from the far face
# to the face laid from; and the resin of the hull where it is known.
# [old_laminate]
# thickness = "8 mm"
# kind = "mat"                      # "mat", "woven" or "biaxial"
# resin = "polyester"               # or "vinylester", "epoxy": nothing but epoxy holds on epoxy

# [prices]
# currency = "EUR"
# fabric_per_m2 = {"mat 450" = 4.20, "mat 300" = 3.10}
# resin_per_kg = 6.00
# hardener_per_kg = 25.00
# topcoat_per_kg = 11.00
# fairing_per_litre = 18.00
)";
}

}  // namespace tearline::job
