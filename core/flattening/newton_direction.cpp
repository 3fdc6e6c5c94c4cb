#include "core/flattening/newton_direction.h"

#include "core/flattening/tolerances.h"

namespace tearline::flattening {

namespace {

double dot(const Places& a, const Places& b) {
    return a.cwiseProduct(b).sum();
}

}  // namespace

NewtonDirection::NewtonDirection(const MembraneEnergy& energy) : held_(energy.corners(0)[0]) {
    ready_ = factor_.compute(held_laplacian(energy, held_));
}

void NewtonDirection::precondition(const Places& right, Places& out) {
    half_ = 0.5 * right;
    half_.col(held_).setZero();
    factor_.solve(half_, out);
}

int NewtonDirection::solve(const MembraneEnergy& energy, double exactness, Places& right,
                           Places& step) {
    step.setZero(2, right.cols());
    right.col(held_).setZero();
    precondition(right, image_);
    search_ = image_;
    double size = dot(right, image_);
    const double enough = size * exactness * exactness;
    int steps = 0;
    while (steps < tolerance::most_conjugate_steps && size > enough) {
        energy.apply_hessian(search_, image_);
        image_.col(held_).setZero();
        const double bend = dot(search_, image_);
        if (!(bend > 0.0)) break;
        const double share = size / bend;
        step += share * search_;
        right -= share * image_;
        precondition(right, image_);
        const double next = dot(right, image_);
        search_ = image_ + (next / size) * search_;
        size = next;
        ++steps;
    }
    return steps;
}

}  // namespace tearline::flattening
