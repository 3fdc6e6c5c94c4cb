#include "core/warnings/of_laminate.h"

#include "core/base/numbers.h"
#include "core/job/fabric_catalogue.h"

namespace tearline::warn {

namespace {

/// "1 fresh layer stays", "0 fresh layers stay".
std::string layers_words(int layers, const char* all, const char* one) {
    return std::to_string(layers) + " fresh layer" + (layers == 1 ? " " : "s ") +
           (layers == 1 ? one : all);
}

}  // namespace

Sentence RovingOnGround::words() const {
    return fabric +
           " lies straight on ground glass: it bridges the scratches and holds too little resin to "
           "bond; lay a mat first";
}

Sentence RovingsWithoutMat::words() const {
    return fabric + " follows " + below +
           " with no mat between: the two peel apart easily; lay a mat between them" +
           (again.empty() ? "" : "; likewise ply " + listed(again));
}

Sentence FewFreshLayers::words() const {
    return (kept ? layers_words(layers, "stay", "stays") +
                       " over the floor when the repair is sanded fair"
                 : layers_words(layers, "reach", "reaches") + " over all the ground glass") +
           ": sanding will bare the old glass; two at least are common practice. Add cover plies, "
           "use lighter cloth, or grind deeper";
}

Sentence GlassContentUnlikely::words() const {
    return plainly("fabric.glass_content ", "a glass content of ") + shortest(content) + " of \"" +
           fabric + "\" is not what hand lay-up gives: about " + fixed(nominal, 2) + " for " +
           std::string(job::kind_word(kind)) + ", " + fixed(least, 2) +
           " on complex shapes (common practice, from memory); thickness, number of plies and "
           "resin follow from it: look at the data sheet again";
}

Sentence ResinRange::words() const {
    return std::string(nominal ? "glass contents are nominal ones, not your cloth's data sheet"
                               : "a glass content is higher than common practice") +
           ": hand lay-up on complex shapes can hold up to " + said_mass(more, 0) +
           plainly(" more resin than totals.resin_g", " more resin than is worked out") +
           "; keep it at hand, unmixed";
}

Sentence PlyOverStage::words() const {
    return "this ply alone is thicker than a stage may be, " + said_thickness(limit, 2) +
           ": it may overheat; use lighter cloth";
}

Sentence StageHeats::words() const {
    return said_thickness(stage, 1) + " are laid wet on wet in one go, more than " +
           said_thickness(limit, 0) +
           ": so thick a laminate heats up as it gels, and can warp, crack, burn or come off; "
           "choose a smaller " +
           plainly("shop.stage_thickness", "thickness of a stage");
}

Sentence EmulsionMatInEpoxy::words() const {
    Sentence words = plainly("fabric \"" + fabric + "\"", fabric) +
                     " has an emulsion binder, which epoxy does not dissolve: it stays dry inside; "
                     "use powder-bound mat" +
                     plainly(" (binder = \"powder\")", "") + ", or cloth";
    if (plies.empty()) return words;
    return words + (plies.size() == 1 ? "; so it is with ply " : "; so it is with plies ") +
           listed(plies);
}

}  // namespace tearline::warn
