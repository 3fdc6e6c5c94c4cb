#include "core/page/layers.h"

#include <limits>

#include "core/base/length_text.h"

namespace tearline::page {

namespace {

std::string thickness(const Plan& plan, double mm) {
    return thickness_text(mm, 2, plan.job.display_units);
}

std::string words_of(const templates::LaidPly& ply, const Plan& plan) {
    if (plan.flat) return plan.flat->cloth == "mat" ? "any sheet that gives like mat" : ply.fabric;
    return ply.fabric + (ply.cover ? ", cover, " : ", ") + thickness(plan, ply.thickness_mm);
}

std::string words_of(const plan::BackingPlan& backing, const Plan& plan) {
    const std::string kind =
        backing.kind == job::BackingKind::petals ? "sheet cut into petals" : "sheet";
    const std::string thick =
        backing.thickness_mm ? ", " + thickness(plan, *backing.thickness_mm) : "";
    return kind + thick + (backing.stays ? ", stays" : ", taken out again");
}

/// Puts layers one on the other; those of the other side of the skin lie below.
class Pile {
public:
    explicit Pile(const Plan& plan) : plan_(plan) {}

    void add_ply(const templates::LaidPly& ply, const Vec3& towards) {
        const std::string number = std::to_string(ply.number);
        const std::string name = plan_.flat ? "Flat" : number;
        add({&ply, plan_.flat ? "flat" : number, name, words_of(ply, plan_), false, towards, 0});
    }
    void add_closing(const std::vector<templates::LaidPly>& pieces, const char* id,
                     const char* name, const std::string& words, const Vec3& towards) {
        for (const templates::LaidPly& ply : pieces) add({&ply, id, name, words, true, towards, 0});
    }
    std::vector<Layer> take() { return std::move(layers_); }

private:
    void add(Layer layer) {
        const bool above = layer.towards.dot(plan_.place.frame.normal) >= 0.0;
        layer.height = above ? above_++ : --below_;
        layers_.push_back(std::move(layer));
    }

    const Plan& plan_;
    std::vector<Layer> layers_;
    int above_ = 0, below_ = 0;
};

/// How deep a layer lies at the middle of the damage [mm].
double depth_of(const Layer& layer, const plan::Place& face) {
    const Vec3& n = layer.towards;
    double nearest = std::numeric_limits<double>::infinity(), depth = 0.0;
    for (const templates::LaidPiece& piece : layer.ply->pieces)
        for (const Vec3& p : piece.piece.lay.position) {
            const Vec3 way = face.frame.middle - p;
            const double aside = (way - n.dot(way) * n).squaredNorm();
            if (aside < nearest) nearest = aside, depth = n.dot(way);
        }
    return depth;
}

}  // namespace

const plan::Place& outermost(const Plan& plan, const Vec3& towards) {
    const plan::Place* out = nullptr;
    for (const plan::Place* place : places_of(plan))
        if (place->frame.normal.dot(towards) > 0.0 &&
            (!out || (place->frame.middle - out->frame.middle).dot(towards) > 0.0))
            out = place;
    return out ? *out : plan.place;
}

std::vector<const plan::Place*> places_of(const Plan& plan) {
    std::vector<const plan::Place*> places;
    for (const Plan& part : plan.parts) places.push_back(&part.place);
    if (places.empty()) places.push_back(&plan.place);
    return places;
}

std::vector<Layer> layers_of(const Plan& plan) {
    Pile pile(plan);
    const auto places = places_of(plan);
    if (plan.backing)
        pile.add_closing(plan.backing->pieces, "backing", "Backing", words_of(*plan.backing, plan),
                         places.front()->frame.normal);
    auto ply = plan.plies.begin();
    for (std::size_t i = 0; i < places.size(); ++i) {
        const Vec3& towards = places[i]->frame.normal;
        if (plan.core && i + 1 == places.size())
            pile.add_closing(plan.core->pieces, "core", "Core",
                             "plug, " + thickness(plan, plan.core->plug_mm), towards);
        const std::size_t count =
            plan.parts.empty() ? plan.plies.size() : plan.parts[i].plies.size();
        for (std::size_t k = 0; k < count; ++k) pile.add_ply(*ply++, towards);
    }
    std::vector<Layer> layers = pile.take();
    // Where there is but one dish every ply is seen in it as it lies.
    if (plan.parts.empty() && !plan.backing && !plan.core) return layers;
    for (Layer& layer : layers) layer.below_mm = depth_of(layer, outermost(plan, layer.towards));
    return layers;
}

}  // namespace tearline::page
