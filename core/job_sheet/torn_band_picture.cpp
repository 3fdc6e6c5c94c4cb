#include "core/job_sheet/torn_band_picture.h"

#include <vector>

#include "core/formats/svg.h"
#include "core/job_sheet/sheet_words.h"

namespace tearline::job_sheet {

namespace {

// On paper [mm]; heights are not to scale.
constexpr double width = 150.0, height = 25.0;
constexpr double left_end = 4.0, net = 60.0, tear = 122.0;
constexpr double top = 9.0, bottom = 14.0;

std::string drawn_line(const Vec2& from, const Vec2& to, const std::string& look) {
    return "<path d=\"" + formats::svg_path({from, to}, false) +
           "\" fill=\"none\" stroke=\"#1c2730\" " + look + "/>";
}

/// Strands of the mat, thinning out over the band.
std::string strands() {
    std::string out;
    for (const double share : {0.25, 0.5, 0.75}) {
        const double y = bottom - share * (bottom - top);
        const double end = tear - share * (tear - net) - 1.0;
        out +=
            drawn_line({left_end + 1.0, y}, {end, y}, "stroke-width=\"0.2\" stroke-dasharray=\"5 1.2\"");
    }
    return out;
}

}  // namespace

std::string torn_band_picture(const Plan& plan, double margin_mm) {
    const std::string w = formats::svg_number(width), h = formats::svg_number(height);
    std::string out = "<svg xmlns=\"http://www.w3.org/2000/svg\" id=\"torn-band\" width=\"" + w +
                      "mm\" height=\"" + h + "mm\" viewBox=\"0 0 " + w + " " + h + "\">";
    out +=
        "<path d=\"" +
        formats::svg_path({{left_end, top}, {net, top}, {tear, bottom}, {left_end, bottom}}, true) +
        "\" fill=\"#dfe9ef\" stroke=\"#1c2730\" stroke-width=\"0.35\"/>";
    out += strands();
    out += drawn_line({left_end, bottom}, {width - 4.0, bottom}, "stroke-width=\"0.6\"");
    // No lower than the words below, which may be wider than the band.
    out += drawn_line({net, top - 3.0}, {net, bottom + 1.2},
                "stroke-width=\"0.3\" stroke-dasharray=\"2 1\"");
    out += drawn_line({tear, top - 3.0}, {tear, bottom + 1.2}, "stroke-width=\"0.3\"");
    const formats::TextStyle plain{3.0}, middle{3.0, "middle"},
        bold{3.2, "middle", "#1c2730", true};
    out += formats::svg_text({net, top - 4.5}, "net line", bold);
    out += formats::svg_text({tear, top - 4.5}, "tear line", bold);
    out += formats::svg_text({left_end + 27.0, top - 1.5}, "whole mat, full thickness", middle);
    out += formats::svg_text({tear + 2.0, bottom - 2.0}, "nothing left here", plain);
    out += formats::svg_text({0.5 * (net + tear), bottom + 4.5},
                             "thinned by hand over " + length(plan, margin_mm, 0), middle);
    out +=
        formats::svg_text({left_end + 1.0, bottom + 4.5}, "ground glass or the ply below", plain);
    return out + "</svg>";
}

}  // namespace tearline::job_sheet
