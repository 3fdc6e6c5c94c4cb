#include "core/warnings/of_scan.h"

#include "core/base/numbers.h"

namespace tearline::warn {

namespace {

/// A place for the command line, by which it is found in the scan; people find it in the picture.
Sentence near(const Vec3& at) {
    return plainly(" near [" + fixed(at.x(), 0) + ", " + fixed(at.y(), 0) + ", " +
                       fixed(at.z(), 0) + "] mm in the scan",
                   "");
}

/// Lines for the job file that mark places.
Sentence to_paste(const std::vector<Vec3>& points, const std::string& more = "") {
    if (points.empty()) return "";
    std::string lines = "[[hull.scan.crease]] points = [";
    for (const Vec3& p : points)
        lines += std::string(&p == points.data() ? "" : ", ") + "[" + fixed(p.x(), 1) + ", " +
                 fixed(p.y(), 1) + ", " + fixed(p.z(), 1) + "]";
    return plainly(" (" + lines + "]" + more + ")", "");
}

}  // namespace

Sentence ScanFitted::words() const {
    return "the hull is a fair surface through " + std::to_string(used) + " of " +
           std::to_string(points) + " points of a scan that scatter by " + said_length(noise, 2) +
           "; waves shorter than " + said_length(fairness, 0) + " are taken for noise" +
           (bridged ? ", and the damage is bridged from the sound skin round it" : "") +
           "; at the middle it may be " + said_length(middle, 2) + " off";
}

Sentence ScanStrays::words() const {
    return std::to_string(count) + " points of the scan lie off the fair surface, one of them " +
           said_length(off, 0) + near(at) + ", and count for nothing";
}

Sentence ScanHoles::words() const {
    return (count == 1 ? std::string("the scan has a hole")
                       : "the scan has " + std::to_string(count) + " holes, the largest") +
           " about " + said_length(width, 0) + " wide" + near(at) +
           ": missing data, bridged as if the hull went on; an opening of the hull is not known "
           "from it";
}

Sentence ScanOneSided::words() const {
    return "the scan shows sound skin on " + fixed(cover, 0) +
           " degrees of the way round the damage only: from one side a surface is told far less "
           "surely, here to " +
           said_length(most, 1) +
           "; scan more of the skin on the other side, or check templates on the hull";
}

Sentence ScanEdgeUnsure::words() const {
    const auto helps = [this]() -> const char* {
        switch (most) {
            case Most::scale:
                return "tape a longer distance between two places of the scan, or several";
            case Most::surface:
                return "use a better scanner, or scan more sound skin round the damage";
            case Most::picking:
                return "scan with finer points, so that places can be picked on it more surely";
            case Most::dish:
                return "the depths of the dish are not known better by its scan: sound it with a "
                       "gauge, or use a better scanner";
        }
        return "";
    };
    return "its edge may be " + said_length(off, 1) + " off, against steps of " +
           said_length(step, 1) + " from ply to ply: " + helps();
}

Sentence ScanOneTape::words() const {
    return "the size of the scan hangs on one tape of " + said_length(length, 0) +
           ": whether it was misread nobody can notice; tape a second distance and write it, too";
}

Sentence ScanTapes::words() const {
    return "by " + std::string(tapes == 1 ? "the tape" : std::to_string(tapes) + " tapes") +
           " the hull is " + fixed(percent, 2) + " % of its scan" +
           (tapes == 1 ? Sentence("")
                       : Sentence(", and the tapes agree with that to ") + said_length(misfit, 1));
}

Sentence DishScanLaid::words() const {
    constexpr double well = 3.0;  // spreads of the noise
    return "the scan of the dish is laid on the hull by its marks and the sound skin round it, "
           "which "
           "it meets to " +
           said_length(off, 2) +
           (off > well * noise ? Sentence(": more than its noise, ") + said_length(noise, 2) +
                                     "; depths are no surer than that"
                               : Sentence(""));
}

Sentence ScanBend::words() const {
    return "the hull bends on a radius of about " + said_length(radius, 0) + near(at) +
           " at the edge of what is bridged: how it goes on inside is not told by the skin round "
           "it; mark three places along its middle " +
           plainly("as [[hull.scan.crease]] with its radius", "in the job file, with its radius") +
           to_paste(middle, " radius = " + fixed(radius, 0)) +
           ", or check the templates on the hull before anything is cut";
}

Sentence ScanUnfollowed::words() const {
    return "the hull bends more sharply than the fair surface follows, which lies about " +
           said_length(off, 1) + " off the points of the scan" + near(at) +
           ": mark the bend or chine there " +
           plainly("([[hull.scan.crease]], with its radius where it has one)",
                   "in the job file, with its radius where it has one") +
           ", or cut what is no skin there out of the scan; or check the templates on the hull "
           "before anything is cut";
}

Sentence ScanChine::words() const {
    return "the hull turns by " + fixed(turn, 0) + " degrees along a line" + near(at) +
           ": a chine that was found in the scan, and it is kept sharp; check on the hull that it "
           "is one and where it runs, and mark it" +
           plainly("", " in the job file") + to_paste(points);
}

Sentence ScanChineUnsure::words() const {
    return "the hull seems to turn by about " + fixed(turn, 0) + " degrees along a line" +
           near(at) +
           ", which the scan does not tell surely enough to keep it sharp: if it is a chine mark "
           "three places along it" +
           plainly("", " in the job file") + to_paste(points) +
           "; if it is none, check the templates on the hull before anything is cut";
}

Sentence GroundFound::words() const {
    return "the edge of the ground area was found in the scan, " + said_length(least, 0) + " to " +
           said_length(most, 0) + " from the centre and as large as a disc of " +
           said_length(across, 0) + " across; it scatters by " + said_length(spread, 1) +
           ": check the grind guide against the ground edge";
}

}  // namespace tearline::warn
