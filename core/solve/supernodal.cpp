#include "core/solve/supernodal.h"

#include <cholmod.h>
#include <dlfcn.h>

#include <algorithm>
#include <cstdlib>
#include <new>
#include <stdexcept>
#include <utility>
#include <vector>

namespace tearline::solve {

namespace {

/// The functions in use. Linked in the plain way the library and its BLAS cost every start of the
/// program a tenth of a small plan, threads that spin among it, for meshes that no ply has.
struct Library {
    decltype(&cholmod_start) start = nullptr;
    decltype(&cholmod_finish) finish = nullptr;
    decltype(&cholmod_analyze) analyze = nullptr;
    decltype(&cholmod_factorize) factorize = nullptr;
    decltype(&cholmod_solve2) solve2 = nullptr;
    decltype(&cholmod_allocate_dense) allocate_dense = nullptr;
    decltype(&cholmod_free_dense) free_dense = nullptr;
    decltype(&cholmod_free_factor) free_factor = nullptr;
    bool complete = true;

    Library() {
        // One thread: sums in one order, so the same bits on every machine of a kind.
        setenv("OPENBLAS_NUM_THREADS", "1", 0);
        setenv("OMP_NUM_THREADS", "1", 0);
        // Loops inside the library ask for four threads by number; only a limit holds them back.
        setenv("OMP_THREAD_LIMIT", "1", 0);
        void* const handle = dlopen(TEARLINE_CHOLMOD, RTLD_NOW | RTLD_LOCAL);
        const auto find = [&](auto& function, const char* name) {
            function =
                handle == nullptr
                    ? nullptr
                    : reinterpret_cast<std::decay_t<decltype(function)>>(dlsym(handle, name));
            complete = complete && function != nullptr;
        };
        find(start, "cholmod_start");
        find(finish, "cholmod_finish");
        find(analyze, "cholmod_analyze");
        find(factorize, "cholmod_factorize");
        find(solve2, "cholmod_solve2");
        find(allocate_dense, "cholmod_allocate_dense");
        find(free_dense, "cholmod_free_dense");
        find(free_factor, "cholmod_free_factor");
    }
};

const Library& library() {
    static const Library loaded;
    return loaded;
}

}  // namespace

struct Supernodal::Work {
    cholmod_common common{};
    cholmod_factor* factor = nullptr;
    cholmod_dense *right = nullptr, *solution = nullptr, *work_y = nullptr, *work_e = nullptr;
};

std::unique_ptr<Supernodal> Supernodal::load() {
    if (!library().complete) return nullptr;
    return std::unique_ptr<Supernodal>(new Supernodal());
}

Supernodal::Supernodal() : work_(std::make_unique<Work>()) {
    library().start(&work_->common);
    work_->common.supernodal = CHOLMOD_SUPERNODAL;
    work_->common.print = 0;
}

Supernodal::~Supernodal() {
    library().free_factor(&work_->factor, &work_->common);
    for (cholmod_dense** dense : {&work_->right, &work_->solution, &work_->work_y, &work_->work_e})
        library().free_dense(dense, &work_->common);
    library().finish(&work_->common);
}

namespace {

cholmod_sparse view_of(const Eigen::SparseMatrix<double>& lower) {
    cholmod_sparse view{};
    view.nrow = view.ncol = static_cast<std::size_t>(lower.cols());
    view.nzmax = static_cast<std::size_t>(lower.nonZeros());
    view.p = const_cast<int*>(lower.outerIndexPtr());
    view.i = const_cast<int*>(lower.innerIndexPtr());
    view.x = const_cast<double*>(lower.valuePtr());
    view.stype = -1;
    view.itype = CHOLMOD_INT;
    view.xtype = CHOLMOD_REAL;
    view.dtype = CHOLMOD_DOUBLE;
    view.sorted = view.packed = 1;
    return view;
}

}  // namespace

bool Supernodal::compute(const Eigen::SparseMatrix<double>& lower) {
    cholmod_sparse view = view_of(lower);
    library().free_factor(&work_->factor, &work_->common);
    work_->factor = library().analyze(&view, &work_->common);
    if (work_->factor == nullptr) throw std::bad_alloc();
    return compute_again(lower);
}

bool Supernodal::compute_again(const Eigen::SparseMatrix<double>& lower) {
    cholmod_sparse view = view_of(lower);
    library().factorize(&view, work_->factor, &work_->common);
    return work_->common.status == CHOLMOD_OK;
}

ColumnBlocks Supernodal::columns() const {
    const cholmod_factor& factor = *work_->factor;
    const auto n = static_cast<std::int32_t>(factor.n);
    const int *order = static_cast<const int*>(factor.Perm),
              *super = static_cast<const int*>(factor.super),
              *row_start = static_cast<const int*>(factor.pi),
              *value_start = static_cast<const int*>(factor.px),
              *row = static_cast<const int*>(factor.s);
    const double* value = static_cast<const double*>(factor.x);
    std::vector<std::int32_t> place(factor.n);
    for (std::int32_t k = 0; k < n; ++k) place[order[k]] = k;
    std::vector<double> pivots(factor.n);
    std::vector<ColumnBlocks::Block> blocks;
    for (std::size_t s = 0; s < factor.nsuper; ++s) {
        const int width = super[s + 1] - super[s], height = row_start[s + 1] - row_start[s];
        for (int from = 0; from < width; from += ColumnBlocks::widest) {
            ColumnBlocks::Block block;
            block.first = super[s] + from;
            block.width = std::min(ColumnBlocks::widest, width - from);
            block.below = height - from - block.width;
            block.rows = row + row_start[s + 1] - block.below;
            for (int w = 0; w < block.width; ++w) {
                const double* diagonal =
                    value + value_start[s] + static_cast<std::ptrdiff_t>(from + w) * (height + 1);
                pivots[block.first + w] = *diagonal;
                block.under[w] = diagonal + 1;
            }
            blocks.push_back(block);
        }
    }
    return {std::move(place), std::move(pivots), std::move(blocks), true};
}

Eigen::Map<Eigen::MatrixXd> Supernodal::right_sides(Eigen::Index columns) {
    Work& w = *work_;
    const std::size_t n = w.factor->n, count = static_cast<std::size_t>(columns);
    if (w.right != nullptr && w.right->ncol != count) library().free_dense(&w.right, &w.common);
    if (w.right == nullptr) {
        w.right = library().allocate_dense(n, count, n, CHOLMOD_REAL, &w.common);
        if (w.right == nullptr) throw std::bad_alloc();
    }
    return {static_cast<double*>(w.right->x), static_cast<Eigen::Index>(n), columns};
}

Eigen::Map<const Eigen::MatrixXd> Supernodal::solved() {
    Work& w = *work_;
    if (library().solve2(CHOLMOD_A, w.factor, w.right, nullptr, &w.solution, nullptr, &w.work_y,
                         &w.work_e, &w.common) == 0)
        throw std::logic_error("supernodal solve failed on a matrix it had factored");
    return {static_cast<const double*>(w.solution->x), static_cast<Eigen::Index>(w.solution->nrow),
            static_cast<Eigen::Index>(w.solution->ncol)};
}

}  // namespace tearline::solve
