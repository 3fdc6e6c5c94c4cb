#include "core/flattening/flatten_membrane.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <stdexcept>
#include <string>

#include "core/base/numbers.h"
#include "core/flattening/membrane_energy.h"
#include "core/flattening/membrane_start.h"
#include "core/flattening/newton_direction.h"
#include "core/flattening/tolerances.h"

namespace tearline::flattening {

namespace {

double farthest(const Places& step) {
    return std::sqrt(step.colwise().squaredNorm().maxCoeff());
}

/// How far vertices have still to go after a whole step: by how much shorter it was than the whole
/// step before, as a geometric series, once that is a rate; else no farther than the step itself.
double left_to_move(double moved, double before) {
    if (!(moved < tolerance::steady_rate * before)) return moved;
    const double rate = moved / before;
    return moved * rate / (1.0 - rate);
}

/// One membrane with its factored Laplacian: relaxes any start.
class Relaxation {
public:
    Relaxation(MembraneEnergy energy, const MembraneOptions& options)
        : energy_(std::move(energy)), options_(options), direction_(energy_) {}

    /// As of NewtonDirection.
    [[nodiscard]] bool is_ready() const { return direction_.is_ready(); }

    struct Outcome {
        Places places;
        double value = 0.0;
        int steps = 0;
        bool converged = false;
        std::vector<std::array<double, 2>> stretch;
        int flipped = 0;
    };

    Outcome relax(Places places, int local_global_steps) {
        Outcome out;
        out.places = std::move(places);
        out.value = energy_.linearise(out.places, gradient_);
        for (int i = 0; i < local_global_steps; ++i) {
            // The local-global step is a Newton step with the Laplacian alone: it cannot go uphill.
            direction_.precondition(gradient_, step_);
            out.places -= step_;
            out.value = energy_.linearise(out.places, gradient_);
        }
        double before = 0.0;
        while (!out.converged && out.steps < options_.most_steps) {
            newton_direction();
            const double share = line_search(out);
            ++out.steps;
            if (!(share > 0.0)) break;
            const double moved = share == 1.0 ? farthest(step_) : 0.0;
            out.converged = share == 1.0 && left_to_move(moved, before) <= options_.stop_movement;
            before = moved;
        }
        out.stretch = energy_.stretches(out.places);
        for (const auto& s : out.stretch) out.flipped += s[1] > 0.0 ? 0 : 1;
        return out;
    }

    [[nodiscard]] const MembraneEnergy& energy() const { return energy_; }
    [[nodiscard]] int conjugate_steps() const { return conjugate_steps_; }

private:
    /// step_ = -H^-1 gradient_, to a part of its own length: later Newton steps mend the rest.
    void newton_direction() {
        right_ = -gradient_;
        conjugate_steps_ += direction_.solve(energy_, tolerance::newton_solve, right_, step_);
    }

    /// Moves along step_ by the largest of 1, 1/2, 1/4 ... that brings the energy down enough, and
    /// linearises there; returns the share, 0 when none does.
    double line_search(Outcome& out) {
        const double slope = gradient_.cwiseProduct(step_).sum();
        const double rounding = tolerance::energy_rounding * out.value;
        for (double share = 1.0; share > tolerance::least_line_share; share *= 0.5) {
            trial_ = out.places + share * step_;
            const double value = energy_.linearise(trial_, gradient_);
            if (value <= out.value + tolerance::armijo * share * slope + rounding) {
                out.places.swap(trial_);
                out.value = value;
                return share;
            }
        }
        return 0.0;
    }

    MembraneEnergy energy_;
    MembraneOptions options_;
    NewtonDirection direction_;
    Places gradient_, step_, right_, trial_;
    int conjugate_steps_ = 0;
};

/// Moves and turns `places` onto `over` as nearly as can be, weighted by area: the rigid motion
/// that the energy leaves free.
void lay_over(const MembraneEnergy& energy, const Places& over, Places& places) {
    Eigen::VectorXd weight = Eigen::VectorXd::Zero(places.cols());
    for (std::size_t t = 0; t < energy.triangle_count(); ++t)
        for (const std::int32_t v : energy.corners(t)) weight[v] += energy.area(t);
    weight /= weight.sum();
    const Vec2 from = places * weight, to = over * weight;
    double cosine = 0.0, sine = 0.0;
    for (Eigen::Index i = 0; i < places.cols(); ++i) {
        const Vec2 p = places.col(i) - from, q = over.col(i) - to;
        cosine += weight[i] * p.dot(q);
        sine += weight[i] * cross2(p, q);
    }
    const double size = std::hypot(cosine, sine);
    if (!(size > 0.0)) return;
    Eigen::Matrix2d turn;
    turn << cosine, -sine, sine, cosine;
    turn /= size;
    places = (turn * (places.colwise() - from)).colwise() + to;
}

/// The starts that may lead to a flat shape without folds, from the likeliest to the surest.
class Starts {
public:
    Starts(const surface::SurfaceMesh& mesh, std::span<const Vec2> given, double area)
        : mesh_(mesh), given_(given), area_(area) {}

    /// Calls `attempt(places, local_global_steps)` with one start after another until it is true.
    template <class Attempt>
    void until(Attempt attempt) {
        constexpr int few = 2, many = 10;
        if (!given_.empty()) {
            const auto* data = given_.front().data();
            Places start =
                Eigen::Map<const Places>(data, 2, static_cast<Eigen::Index>(given_.size()));
            if (attempt(std::move(start), few)) return;
        }
        if (auto start = plane_start(mesh_))
            if (attempt(std::move(*start), few)) return;
        if (auto start = circle_start(mesh_, area_)) attempt(std::move(*start), many);
    }

private:
    const surface::SurfaceMesh& mesh_;
    std::span<const Vec2> given_;
    double area_;
};

}  // namespace

Result<Flattening> flatten_membrane(const surface::SurfaceMesh& mesh, std::span<const Vec2> start,
                                    const MembraneOptions& options) {
    if (mesh.triangle.empty()) return no_safe_answer("flattening: the piece has no triangles");
    auto energy = MembraneEnergy::of(mesh);
    if (!energy) return tl::unexpected(energy.error());
    if (!start.empty() && start.size() != energy->vertex_count())
        throw std::logic_error("flattening: start and mesh disagree in their vertices");

    Relaxation relaxation(std::move(*energy), options);
    if (!relaxation.is_ready())
        return no_safe_answer(
            "flattening: the surface falls apart or is squeezed to nothing at the ply's depth; "
            "use fewer or thinner plies, or plan a smaller damage");
    std::optional<Relaxation::Outcome> best;
    std::optional<Places> over;
    Starts(mesh, start, relaxation.energy().area()).until([&](Places places, int steps) {
        if (!over) over = places;
        auto outcome = relaxation.relax(std::move(places), steps);
        if (outcome.converged &&
            (!best || outcome.flipped < best->flipped ||
             (outcome.flipped == best->flipped && outcome.value < best->value)))
            best = std::move(outcome);
        return best && best->flipped == 0;
    });
    if (!over) return no_safe_answer("flattening: the surface is closed and has no edge to open");
    if (!best)
        return no_safe_answer("flattening: not converged to " + fixed(options.stop_movement, 6) +
                              " mm after " + std::to_string(options.most_steps) + " steps");
    lay_over(relaxation.energy(), *over, best->places);

    Flattening out;
    out.flat.resize(static_cast<std::size_t>(best->places.cols()));
    Eigen::Map<Places>(out.flat.front().data(), 2, best->places.cols()) = best->places;
    out.energy = best->value;
    out.area = relaxation.energy().area();
    out.stretch = std::move(best->stretch);
    out.steps = relaxation.conjugate_steps();
    out.newton_steps = best->steps;
    out.flipped = best->flipped;
    return out;
}

}  // namespace tearline::flattening
