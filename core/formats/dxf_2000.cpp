#include <array>
#include <cmath>
#include <numbers>

#include "core/base/numbers.h"
#include "core/formats/arcs.h"
#include "core/formats/cutter_text.h"
#include "core/formats/dxf.h"
#include "core/formats/dxf_groups.h"

namespace tearline::formats {

namespace {

/// Handles tie the tables, blocks and entities of the format together; each is used once.
class Handles {
public:
    std::string next() { return hex(++last_); }
    [[nodiscard]] std::string seed() const { return hex(last_ + 1); }

private:
    static std::string hex(unsigned number) {
        std::string out;
        for (; number > 0; number /= 16) out.insert(out.begin(), "0123456789ABCDEF"[number % 16]);
        return out;
    }
    unsigned last_ = 0x1F;
};

struct File {
    DxfGroups out;
    Handles handles;
    std::string model_record, paper_record;
    std::vector<std::string> block_records;

    void subclass(const std::string& name) { out.put(100, name); }
    void entity(const char* kind, const std::string& owner, const std::string& layer) {
        out.put(0, kind).put(5, handles.next()).put(330, owner);
        subclass("AcDbEntity");
        out.put(8, layer);
    }
};

/// Opens a table and gives its handle.
std::string begin_table(File& file, const char* name, int size) {
    const std::string handle = file.handles.next();
    file.out.put(0, "TABLE").put(2, name).put(5, handle).put(330, "0");
    file.subclass("AcDbSymbolTable");
    file.out.put(70, size);
    return handle;
}

void begin_record(File& file, const char* kind, const std::string& owner, const char* subclass,
                  const std::string& name) {
    // The dimension style alone keeps its handle under another code.
    file.out.put(0, kind).put(std::string_view(kind) == "DIMSTYLE" ? 105 : 5, file.handles.next());
    file.out.put(330, owner);
    file.subclass("AcDbSymbolTableRecord");
    file.subclass(subclass);
    file.out.put(2, name).put(70, 0);
}

void put_view_tables(File& file) {
    std::string table = begin_table(file, "VPORT", 1);
    begin_record(file, "VPORT", table, "AcDbViewportTableRecord", "*Active");
    file.out.point(Vec2(0, 0), false, 10)
        .point(Vec2(1, 1), false, 11)
        .point(Vec2(200, 150), false, 12);
    file.out.put(16, 0.0).put(26, 0.0).put(36, 1.0).put(40, 400.0).put(41, 1.4);
    file.out.put(0, "ENDTAB");
    table = begin_table(file, "LTYPE", 3);
    for (const char* name : {"ByBlock", "ByLayer", "Continuous"}) {
        begin_record(file, "LTYPE", table, "AcDbLinetypeTableRecord", name);
        file.out.put(3, "").put(72, 65).put(73, 0).put(40, 0.0);
    }
    file.out.put(0, "ENDTAB");
}

void put_layers(File& file) {
    constexpr std::array<drawing::Role, 16> roles = {
        drawing::Role::tear,  drawing::Role::cut,       drawing::Role::hole,
        drawing::Role::net,   drawing::Role::next_edge, drawing::Role::datum,
        drawing::Role::arrow, drawing::Role::fibre,     drawing::Role::tick,
        drawing::Role::notch, drawing::Role::drill,     drawing::Role::relief,
        drawing::Role::ring,  drawing::Role::fold,      drawing::Role::kerf,
        drawing::Role::sketch};
    std::vector<std::pair<std::string, int>> layers = {{"0", 7}, {"WORDS", 7}};
    for (const drawing::Role role : roles)
        layers.emplace_back(cad_layer(role), drawing::is_parted(role) ? 1 : 5);
    const std::string table = begin_table(file, "LAYER", static_cast<int>(layers.size()));
    for (const auto& [name, colour] : layers) {
        begin_record(file, "LAYER", table, "AcDbLayerTableRecord", name);
        file.out.put(62, colour).put(6, "Continuous");
    }
    file.out.put(0, "ENDTAB");
}

void put_small_tables(File& file) {
    std::string table = begin_table(file, "STYLE", 1);
    begin_record(file, "STYLE", table, "AcDbTextStyleTableRecord", "Standard");
    file.out.put(40, 0.0).put(41, 1.0).put(50, 0.0).put(71, 0).put(42, 3.0).put(3, "txt").put(4,
                                                                                              "");
    file.out.put(0, "ENDTAB");
    for (const char* name : {"VIEW", "UCS"}) {
        begin_table(file, name, 0);
        file.out.put(0, "ENDTAB");
    }
    table = begin_table(file, "APPID", 1);
    begin_record(file, "APPID", table, "AcDbRegAppTableRecord", "ACAD");
    file.out.put(0, "ENDTAB");
    table = begin_table(file, "DIMSTYLE", 1);
    file.subclass("AcDbDimStyleTable");
    begin_record(file, "DIMSTYLE", table, "AcDbDimStyleTableRecord", "Standard");
    file.out.put(0, "ENDTAB");
}

void put_block_records(File& file, const std::vector<drawing::Drawing>& drawings) {
    const std::string table =
        begin_table(file, "BLOCK_RECORD", static_cast<int>(drawings.size()) + 2);
    const auto add = [&](const std::string& name) {
        const std::string handle = file.handles.next();
        file.out.put(0, "BLOCK_RECORD").put(5, handle).put(330, table);
        file.subclass("AcDbSymbolTableRecord");
        file.subclass("AcDbBlockTableRecord");
        file.out.put(2, name);
        return handle;
    };
    file.model_record = add("*Model_Space");
    file.paper_record = add("*Paper_Space");
    for (const drawing::Drawing& drawing : drawings)
        file.block_records.push_back(add(symbol_name(drawing.name)));
    file.out.put(0, "ENDTAB");
}

void put_text(File& file, const std::string& owner, const Vec2& base, const Vec2& up,
              const std::string& text, bool centred) {
    file.entity("TEXT", owner, "WORDS");
    file.subclass("AcDbText");
    file.out.point(base).put(40, up.norm()).put(1, dxf_text(text));
    const double turn = std::atan2(-up.x(), up.y()) * 180.0 / std::numbers::pi;
    if (std::abs(turn) > 0.01) file.out.put(50, turn);
    if (centred) file.out.put(72, 1).point(base, true, 11);
    file.subclass("AcDbText");
}

void put_line(File& file, const std::string& owner, const drawing::Drawing::Line& line,
              const CutterSheet& sheet) {
    if (line.points.size() == 1) {
        file.entity("POINT", owner, cad_layer(line.role));
        file.subclass("AcDbPoint");
        file.out.point(line.points[0]);
        return;
    }
    file.entity("LWPOLYLINE", owner, cad_layer(line.role));
    file.subclass("AcDbPolyline");
    const std::vector<BulgedPoint> points = cutter_points(line, sheet);
    file.out.put(90, static_cast<int>(points.size())).put(70, line.closed ? 1 : 0);
    for (const BulgedPoint& p : points) {
        file.out.point(p.at, false);
        if (p.bulge != 0.0) file.out.put(42, fixed(p.bulge, 9));
    }
}

void put_block(File& file, const std::string& record, const std::string& name,
               const CutterSheet& sheet, const drawing::Drawing* drawing) {
    file.entity("BLOCK", record, "0");
    file.subclass("AcDbBlockBegin");
    file.out.put(2, name).put(70, 0).point(Vec2(0, 0)).put(3, name).put(1, "");
    if (drawing != nullptr) {
        for (const drawing::Drawing::Line& line : drawing->lines)
            put_line(file, record, line, sheet);
        for (const drawing::Drawing::Text& text : drawing->texts)
            put_text(file, record, text.base, text.up, text.text, true);
    }
    file.entity("ENDBLK", record, "0");
    file.subclass("AcDbBlockEnd");
}

void put_blocks_and_entities(File& file, const CutterSheet& sheet) {
    const std::vector<drawing::Drawing>& drawings = sheet.drawings;
    file.out.put(0, "SECTION").put(2, "BLOCKS");
    put_block(file, file.model_record, "*Model_Space", sheet, nullptr);
    put_block(file, file.paper_record, "*Paper_Space", sheet, nullptr);
    for (std::size_t i = 0; i < drawings.size(); ++i)
        put_block(file, file.block_records[i], symbol_name(drawings[i].name), sheet, &drawings[i]);
    file.out.put(0, "ENDSEC").put(0, "SECTION").put(2, "ENTITIES");
    for (std::size_t i = 0; i < drawings.size(); ++i) {
        file.entity("INSERT", file.model_record, "0");
        file.subclass("AcDbBlockReference");
        file.out.put(2, symbol_name(drawings[i].name)).point(sheet.places[i]);
    }
    Vec2 at = words_start(sheet);
    for (const std::string& text : sheet_words(sheet)) {
        put_text(file, file.model_record, at, Vec2(0, 3.5), text, false);
        at.y() -= 6.0;
    }
    file.out.put(0, "ENDSEC");
}

void put_objects(File& file) {
    const std::string root = file.handles.next(), group = file.handles.next();
    file.out.put(0, "SECTION").put(2, "OBJECTS");
    file.out.put(0, "DICTIONARY").put(5, root).put(330, "0");
    file.subclass("AcDbDictionary");
    file.out.put(281, 1).put(3, "ACAD_GROUP").put(350, group);
    file.out.put(0, "DICTIONARY").put(5, group).put(330, root);
    file.subclass("AcDbDictionary");
    file.out.put(281, 1).put(0, "ENDSEC");
}

}  // namespace

std::string dxf_2000(const CutterSheet& sheet) {
    File body;
    body.out.put(0, "SECTION")
        .put(2, "CLASSES")
        .put(0, "ENDSEC")
        .put(0, "SECTION")
        .put(2, "TABLES");
    put_view_tables(body);
    put_layers(body);
    put_small_tables(body);
    put_block_records(body, sheet.drawings);
    body.out.put(0, "ENDSEC");
    put_blocks_and_entities(body, sheet);
    put_objects(body);
    DxfGroups head;
    head.put(0, "SECTION").put(2, "HEADER").put(9, "$ACADVER").put(1, "AC1015");
    head.put(9, "$INSUNITS").put(70, 4).put(9, "$MEASUREMENT").put(70, 1);
    head.put(9, "$HANDSEED").put(5, body.handles.seed()).put(0, "ENDSEC");
    return head.take() + body.out.put(0, "EOF").take();
}

}  // namespace tearline::formats
