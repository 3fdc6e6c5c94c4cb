#include "core/output/dxf_groups.h"

#include "core/base/numbers.h"

namespace tearline::output {

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

int astm_layer(Role role) {
    switch (role) {
        case Role::tear:
        case Role::cut:
            return 1;
        case Role::notch:
            return 4;
        case Role::fibre:
            return 7;
        case Role::drill:
            return 13;
        case Role::hole:
        case Role::relief:
            return 11;
        case Role::net:
        case Role::next_edge:
        case Role::datum:
        case Role::arrow:
        case Role::tick:
        case Role::ring:
        case Role::sketch:
            return 8;
    }
    return 8;
}

const char* cad_layer(Role role) {
    switch (role) {
        case Role::tear:
            return "TEAR_LINE";
        case Role::cut:
            return "CUT_LINE";
        case Role::hole:
            return "HOLES";
        case Role::net:
            return "NET_LINE";
        case Role::next_edge:
            return "SMALLER_PLY";
        case Role::datum:
            return "DATUM";
        case Role::arrow:
            return "ARROWS";
        case Role::fibre:
            return "FIBRE";
        case Role::tick:
            return "MATCH_TICKS";
        case Role::notch:
            return "NOTCHES";
        case Role::drill:
            return "DRILL";
        case Role::relief:
            return "RELIEF_CUTS";
        case Role::ring:
            return "RINGS";
        case Role::sketch:
            return "SKETCH";
    }
    return "0";
}

}  // namespace tearline::output
