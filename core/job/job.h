#pragma once
#include <array>
#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "core/base/quantity.h"
#include "core/base/units.h"
#include "core/base/vec.h"
#include "core/job/measurements.h"
#include "core/job/scan.h"
#include "core/job/through.h"

/// The job file (TOML) as read: every default filled in, every length in mm.
namespace tearline::job {

enum class FabricKind { mat, woven, biaxial };

/// Mechanical figures from a cloth's data sheet; each goes before the formula's [MPa].
struct DataSheet {
    std::optional<double> modulus;  ///< along the warp, and across unless said
    std::optional<double> modulus_across;
    std::optional<double> shear_modulus;
    std::optional<double> poisson;  ///< [-]
    std::optional<double> tensile_strength, compressive_strength, flexural_strength, shear_strength;
};

/// One fabric of the catalogue, or the user's own.
struct Fabric {
    std::string name;
    FabricKind kind = FabricKind::mat;
    GramsPerSquareMetre weight{450.0};  ///< dry glass
    double glass_content = 0.30;        ///< [-] by mass, in (0, 1)
    std::optional<double> thickness;    ///< [mm] from a data sheet; else by mass balance
    std::string binder = "emulsion";    ///< mat: "emulsion" | "powder"
    double roll_width = 1250.0;         ///< [mm]
    double tear_margin = 20.0;          ///< [mm] mat only
    double lap = 50.0;                  ///< [mm] woven and biaxial seams
    double strain_limit = 0.05;         ///< [-] mat
    double shear_limit = 40.0;          ///< [deg] woven and biaxial
    double least_radius = 8.0;          ///< [mm]
    DataSheet data_sheet;
};

struct HullOptions {
    std::filesystem::path model;  ///< as resolved against the job file's folder; or one of:
    std::optional<BattenGaps> measured;
    std::optional<OffsetGrid> grid;
    std::optional<OffsetTable> sections;
    std::optional<Corner> corner;
    std::string model_as_given;       ///< as the job file names it
    std::optional<std::string> unit;  ///< "mm", "cm", "m", "in", "ft"
    Vec3 bow{1, 0, 0};                ///< unit vector
    Vec3 up{0, 0, 1};                 ///< unit vector
    Side surface = Side::outside;     ///< which face of the skin the model is
    std::optional<double> skin;       ///< [mm]
    std::string outward = "auto";     ///< "auto" | "as modelled" | "reversed"
    std::optional<bool> mirror;
    std::optional<HullScan> scan;  ///< the model is a measurement
    bool exact = false;            ///< a mesh is no scan, however rough it looks

    [[nodiscard]] bool by_hand() const { return measured || grid || sections || corner; }
};

enum class Join { smooth, straight };
enum class Round { floor, ground_area };
/// What becomes of the cloth where the damage runs off the hull's end.
enum class AtEnd { cut, lap };
/// What rises to the edge of an opening that is kept: nothing, or the scarf.
enum class ScarfTo { none, opening };

/// A fitting, a porthole, a row of bolts: where the hull is not, and the cloth must not be.
struct Opening {
    std::optional<Vec3> centre;    ///< [mm] in it, or with `radius` its middle
    std::optional<double> radius;  ///< [mm] of one that the model does not have
    std::vector<Vec3> outline;     ///< [mm] the same by points round it
    std::optional<bool> keep;
    ScarfTo scarf_to = ScarfTo::none;
    double clear = 2.0;  ///< [mm] between its edge and the cloth
    bool slit = false;   ///< of each ply, from the hole to its edge
    int line = 0;
};

struct Damage {
    std::vector<Vec3> outline;  ///< [mm] picked points; empty when `centre` is used
    Join join = Join::smooth;
    std::optional<Vec3> centre;    ///< [mm]
    std::optional<double> radius;  ///< [mm]
    std::optional<double> length;  ///< [mm] full axis along the bow direction
    std::optional<double> height;  ///< [mm] full axis across it
    /// [mm] > 0; 0 while only soundings under straightedges tell it and the hull is not known.
    double depth = 0.0;
    Side side = Side::outside;  ///< the face the glass is laid from
    AtEnd at_end = AtEnd::cut;
    double lap_over = 50.0;             ///< [mm] of the first ply over the hull's end
    double edge_turn = 90.0;            ///< [deg] of the face that it laps on to
    std::optional<double> edge_radius;  ///< [mm] of the finished face; else by depth and cloth
    std::optional<Vec3> within;         ///< [mm] in the part that an outline cuts off the hull
    /// [mm] along the hull's own end, where a scan or figures taken by hand do not show it
    std::vector<Vec3> end;
    std::vector<Opening> openings;
    std::vector<Sounding> soundings;
    std::optional<DishScan> scan;       ///< of the dish as it was ground
    std::vector<DishScan> scans_after;  ///< of the cured work
    /// Whether a scan shows the dish.
    [[nodiscard]] bool scanned(const std::optional<HullScan>& hull) const {
        return scan || !scans_after.empty() || (hull && hull->shows == ScanShows::dish);
    }
    /// What the outline goes round when there are soundings; without a word, the ground area when
    /// no sounding lies outside the outline.
    std::optional<Round> round;
    /// [mm] how far its points may lie off the base surface, beside what a pick is off: they were
    /// found on another face of the skin
    double carried = 0.0;
    bool through = false;            ///< a hole: as deep as the skin is thick
    std::optional<Reaches> reaches;  ///< with a core: the farthest layer that is damaged
};

struct Scarf {
    double ratio = 12.0;               ///< [-]
    double least_step = 0.0;           ///< [mm]
    double safety_factor = 1.5;        ///< [-]
    std::optional<double> bond_shear;  ///< [MPa]
    std::optional<ScarfFrom> from;     ///< of a hole right through; none of any other repair
    double share = 0.5;                ///< [-] of the skin, laid from outside, with both
    Side first = Side::inside;         ///< the side laid first, with both
    double grind_back = 0.5;           ///< [mm] off the back of the side laid first, with both
};

enum class Order { smallest_first, largest_first };
/// What `fill` goes on until.
enum class FillTo { thickness, stiffness, strength };
enum class Position { flat, vertical, overhead };

struct StackEntry {
    std::string fabric;      ///< a name in `Job::fabrics`
    double axis = 0.0;       ///< [deg] ccw from x, seen from the laying side
    double axis_free = 0.0;  ///< [deg] it may turn to either side
};

struct Layup {
    Order order = Order::smallest_first;
    std::vector<StackEntry> stack;  ///< in the order of laying; empty when `fill` is used
    std::vector<StackEntry>
        fill;  ///< repeated until the depth is reached; empty when `stack` is given
    FillTo fill_to = FillTo::thickness;  ///< the depth, or the old laminate's stiffness or strength
    std::vector<StackEntry> cover;
    double cover_step = 25.0;         ///< [mm]
    std::optional<Vec3> press_first;  ///< [mm]
    Position position = Position::flat;
    int copies = 1;
};

enum class ResinKind { polyester, vinylester, epoxy };
enum class Basis { mass, volume };

struct GelAt {
    Celsius temperature{20.0};
    double percent = 1.25;
    Grams mass{100.0};
};

/// What resin is sold in, by mass or by volume, and as the job file writes it.
struct Can {
    std::optional<Grams> mass;
    std::optional<Millilitres> volume;
    std::string text;
};

/// Figures of one resin; those of another kind than polyester by `resin_of_kind`.
struct Resin {
    ResinKind kind = ResinKind::polyester;
    /// Of the liquid resin; epoxy: of the resin part alone. Epoxy and vinylester: no default.
    std::optional<GramsPerMillilitre> density{1.13};
    double cured_density = 1.20;                          ///< [g/cm3]
    bool cured_density_given = false;                     ///< the figure stands in the job file
    std::optional<double> hardener_percent;               ///< polyester 1.25; vinylester: required
    bool hardener_given = false;                          ///< the figure stands in the job file
    std::optional<std::array<double, 2>> hardener_parts;  ///< epoxy: resin, hardener
    std::optional<Basis> hardener_basis;                  ///< mass unless said
    /// [%] polyester's default; vinylester and epoxy: none.
    std::optional<std::array<double, 2>> hardener_range{{1.0, 2.0}};
    /// Polyester's default; vinylester and epoxy: none.
    std::optional<GramsPerMillilitre> hardener_density{1.15};
    bool hardener_density_given = false;  ///< the figure stands in the job file
    std::optional<Minutes> gel_minutes;
    std::optional<GelAt> gel_at;
    Celsius least_temperature{15.0};
    Hours recoat_hours{24.0};
    bool waxed = false;
    Grams cup{250.0};
    double waste = 0.10;  ///< [-]
    GramsPerSquareMetre prime{150.0};
    std::optional<double> drops_per_mL;
    Can can{Grams(5000.0), std::nullopt, "5 kg"};  ///< "1 qt" where sheets show US units first
};

/// Only `topcoat_given` says whether an epoxy job has one: nothing here is its default.
struct Topcoat {
    bool final_coat = false;   ///< finish = "final"
    double thickness = 0.508;  ///< [mm] wet
    GramsPerMillilitre density{1.25};
    std::optional<double> hardener_percent = 2.0;  ///< none with epoxy unless given
    bool hardener_given = false;                   ///< the figure stands in the job file
    std::optional<std::array<double, 2>> hardener_range{{1.2, 3.0}};
};

struct Laminator {
    double wet_out_rate = 0.05;  ///< [m2/min]
    double use_fraction = 0.6;   ///< [-] of the gel time
};

struct Shop {
    Celsius temperature{20.0};
    double stage_thickness = 4.3;               ///< [mm]
    double cutting_gap = 5.0;                   ///< [mm] between pieces on the roll
    std::optional<Hours> hours_between_stages;  ///< as the work is planned
    double fairing_skim = 0.3;  ///< [mm] of fairing compound over all, for pits and pinholes
};

struct OldLaminate {
    std::vector<StackEntry> stack;
    std::optional<double> thickness;  ///< [mm] with `kind`
    std::optional<FabricKind> kind;
    std::optional<ResinKind> resin;  ///< of the hull as built, where known
};

struct Prices {
    std::string currency;
    std::map<std::string, double> fabric_per_m2;
    std::optional<double> resin_per_kg;
    std::optional<double> hardener_per_kg;
    std::optional<double> topcoat_per_kg;
    std::optional<double> fairing_per_litre;
};

using tearline::Units;

/// One repair, complete.
struct Job {
    std::filesystem::path file;        ///< where it was read from
    std::map<std::string, int> lines;  ///< [-] from 1: where each table and key given stands
    int version = 1;
    std::string title;
    Units display_units = Units::metric;
    HullOptions hull;
    Damage damage;
    std::vector<Mark> marks;
    std::vector<TapedPoint> taped;  ///< points above that are found once the hull is known
    Scarf scarf;
    Layup layup;
    std::optional<Layup> layup_inside;              ///< the side laid from inside, with both
    std::optional<Layup> layup_inner, layup_outer;  ///< the new skins of a sandwich
    std::optional<Backing> backing;
    std::optional<Core> core;
    Part part;
    std::map<std::string, Fabric> fabrics;  ///< built-in ones overridden by the user's
    std::vector<std::string> own_fabrics;   ///< names that the job file has a [[fabric]] for
    Resin resin;
    bool topcoat_given = false;  ///< whether a [topcoat] table with a key stands in the file
    Topcoat topcoat;
    Laminator laminator;
    Shop shop;
    std::optional<OldLaminate> old_laminate;
    std::optional<Prices> prices;
    int after_ply = 0;  ///< plan what is left to lay on the cured plies up to this one; 0: all
    std::string effective_json;  ///< every key with its default resolved, as a JSON object
};

}  // namespace tearline::job
