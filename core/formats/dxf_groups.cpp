#include "core/formats/dxf_groups.h"

#include "core/base/numbers.h"

namespace tearline::formats {

DxfGroups& DxfGroups::put(int code, std::string_view text) {
    std::string number = std::to_string(code);
    text_.append(number.size() < 3 ? 3 - number.size() : 0, ' ');
    text_ += number;
    text_ += "\r\n";
    text_ += text;
    text_ += "\r\n";
    return *this;
}

DxfGroups& DxfGroups::put(int code, double number) {
    return put(code, fixed(number, 4));
}

DxfGroups& DxfGroups::point(const Vec2& p, bool with_z, int code) {
    put(code, p.x()).put(code + 10, p.y());
    return with_z ? put(code + 20, 0.0) : *this;
}

int astm_layer(drawing::Role role) {
    switch (role) {
        case drawing::Role::tear:
        case drawing::Role::cut:
            return 1;
        case drawing::Role::notch:
            return 4;
        case drawing::Role::fibre:
            return 7;
        case drawing::Role::drill:
            return 13;
        case drawing::Role::hole:
        case drawing::Role::torn_hole:
        case drawing::Role::relief:
            return 11;
        case drawing::Role::net:
        case drawing::Role::next_edge:
        case drawing::Role::fold:
        case drawing::Role::kerf:
        case drawing::Role::datum:
        case drawing::Role::arrow:
        case drawing::Role::tick:
        case drawing::Role::ring:
        case drawing::Role::tape:
        case drawing::Role::sketch:
        case drawing::Role::frame:
            return 8;
    }
    return 8;
}

const char* cad_layer(drawing::Role role) {
    switch (role) {
        case drawing::Role::tear:
            return "TEAR_LINE";
        case drawing::Role::cut:
            return "CUT_LINE";
        case drawing::Role::hole:
        case drawing::Role::torn_hole:
            return "HOLES";
        case drawing::Role::net:
            return "NET_LINE";
        case drawing::Role::next_edge:
            return "SMALLER_PLY";
        case drawing::Role::fold:
            return "FOLD_LINES";
        case drawing::Role::kerf:
            return "KERFS";
        case drawing::Role::datum:
            return "DATUM";
        case drawing::Role::arrow:
            return "ARROWS";
        case drawing::Role::fibre:
            return "FIBRE";
        case drawing::Role::tick:
            return "MATCH_TICKS";
        case drawing::Role::notch:
            return "NOTCHES";
        case drawing::Role::drill:
            return "DRILL";
        case drawing::Role::relief:
            return "RELIEF_CUTS";
        case drawing::Role::ring:
            return "RINGS";
        case drawing::Role::sketch:
            return "SKETCH";
        case drawing::Role::tape:
        case drawing::Role::frame:
            break;  // on paper alone
    }
    return "0";
}

}  // namespace tearline::formats
