#include <algorithm>
#include <cctype>
#include <utility>

#include "core/job/boat_job.h"
#include "core/job/is_one_of.h"
#include "core/job/job_of.h"
#include "core/job/merge_repair.h"
#include "core/job/nearest_name.h"
#include "core/job/parse_toml.h"
#include "core/job/read_job.h"
#include "core/job/schema/boat_keys.h"
#include "core/job/schema/tables.h"

namespace tearline::job {

namespace {

constexpr std::size_t longest_name = 40;  ///< [characters] that have room on a small template
constexpr std::size_t most_repairs = 500;

/// Folders of the boat itself, beside those of its repairs.
constexpr std::array<std::string_view, 2> folders_of_the_boat = {"rolls", "remnants"};

std::string lower(std::string text) {
    for (char& c : text) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    return text;
}

bool is_plain_name(const std::string& name) {
    return !name.empty() && name.size() <= longest_name &&
           std::all_of(name.begin(), name.end(), [](unsigned char c) {
               return (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') ||
                      c == '_' || c == '-';
           });
}

/// Tables of one name, each written [[name]]; null where there are none, or they are refused.
const Node* tables(const Node& root, std::string_view name, Refusals& refusals) {
    const Node* list = root.find(name);
    if (list == nullptr) return nullptr;
    const bool good = list->kind == Node::Kind::array && !list->items.empty() &&
                      std::all_of(list->items.begin(), list->items.end(),
                                  [](const Node& item) { return item.kind == Node::Kind::table; });
    if (good) return list;
    refusals.refuse(*list, std::string(name),
                    "write each as a table of its own, [[" + std::string(name) + "]]");
    return nullptr;
}

/// The file of a boat on its way to jobs.
class BoatReader {
public:
    BoatReader(const Node& root, const std::filesystem::path& file, int last_line)
        : root_(root), file_(file), refusals_(file.string(), last_line) {}

    Result<BoatJob> read() {
        BoatJob boat;
        boat.file = file_;
        Job scratch;  // rows of keys are read with a job at hand
        if (const Node* title = root_.find("title"))
            KeyReader<Job>(refusals_, &just(*title), "", job_keys(), scratch, scratch)
                .read("title");
        boat.title = scratch.title.empty() ? file_.stem().string() : scratch.title;
        std::vector<std::string_view> keys = job_keys().names();
        keys.insert(keys.end(), {"repair", "remnant", "allow_overlap"});
        const TableReader top(refusals_, &root_, "", keys);
        read_allow_overlap(boat);
        if (const Node* list = tables(root_, "repair", refusals_)) {
            if (list->items.size() > most_repairs)
                refusals_.refuse(list->items[most_repairs].line, "repair",
                                 "more than " + std::to_string(most_repairs) +
                                     " places; plan the boat in two files");
            for (const Node& node : list->items) {
                if (refusals_.first()) break;
                if (auto failed = read_repair(node, boat)) return tl::unexpected(*failed);
            }
        } else if (!refusals_.first()) {
            const Node* with = root_.find("remnant");
            if (with == nullptr) with = root_.find("allow_overlap");
            refusals_.refuse(with->line, with->key,
                             "goes with several places of one boat: write each place as a table "
                             "of its own, [[repair]]");
        }
        if (!refusals_.first()) read_remnants(boat);
        if (refusals_.first()) return tl::unexpected(*refusals_.first());
        return boat;
    }

private:
    /// A table with one item.
    const Node& just(const Node& item) {
        one_.items = {item};
        return one_;
    }

    void read_allow_overlap(BoatJob& boat) {
        const Node* value = root_.find("allow_overlap");
        if (value == nullptr) return;
        if (value->kind != Node::Kind::boolean)
            return refusals_.refuse(*value, "allow_overlap",
                                    "must be true or false, without quotes");
        boat.allow_overlap = value->truth;
    }

    std::string name_of(TableReader& table, const BoatJob& boat) {
        const std::string number = std::to_string(boat.repairs.size() + 1);
        std::string name = "R" + number;
        if (const Node* given = table.find("name")) {
            if (given->kind != Node::Kind::text || !is_plain_name(given->text))
                table.refuse("name",
                             "a name is the name of its folder: letters A to Z, digits, - "
                             "and _, at most " +
                                 std::to_string(longest_name));
            else
                name = given->text;
        }
        for (const std::string_view own : folders_of_the_boat)
            if (lower(name) == own) table.refuse("name", "is a folder of the boat's own files");
        for (const Repair& other : boat.repairs)
            if (lower(other.name) == lower(name))
                table.refuse("name", "\"" + name + "\" and \"" + other.name +
                                         "\" are one name to some systems; every place has a "
                                         "name of its own (the ones without are R1, R2, ...)");
        return name;
    }

    void refuse_shared(TableReader& table, const Node& node) {
        for (const Node& item : node.items)
            if (is_one_of(item.key, shared_tables()))
                table.refusals().refuse(item.line, table.path_of(item.key),
                                        "is of the whole boat: write it at the top, for all places "
                                        "alike, or plan this place by a job file of its own");
    }

    /// What of layup may stand in the repair itself.
    void refuse_twice(TableReader& table, const Node& node) {
        const Node* layup = node.find("layup");
        if (layup == nullptr) return;
        for (const std::string_view key : {"copies", "press_first"})
            if (table.has(key) && layup->find(key) != nullptr)
                table.refuse(key, "stands in the repair and in its layup; keep one");
    }

    /// @return  what its job is refused for
    std::optional<Error> read_repair(const Node& node, BoatJob& boat) {
        const std::string path = "repair[" + std::to_string(boat.repairs.size() + 1) + "]";
        std::vector<std::string_view> keys = tables_of_a_repair();
        keys.insert(keys.end(), {"name", "title", "copies", "press_first"});
        std::vector<std::string_view> known = keys;
        known.insert(known.end(), shared_tables().begin(), shared_tables().end());
        TableReader table(refusals_, &node, path, known);
        refuse_shared(table, node);
        refuse_twice(table, node);
        const std::string name = name_of(table, boat);
        const auto title = table.read("title", &TableReader::text);
        if (refusals_.first()) return std::nullopt;
        Node tree = merged_repair(root_, node);
        tree.items.push_back({.kind = Node::Kind::text, .key = "title", .line = node.line});
        tree.items.back().text = boat.title + " · " + name;
        if (title && !title->empty()) tree.items.back().text += ": " + *title;
        auto job = job_of(tree, file_, node.line);
        if (!job) return of_repair(job.error(), name);
        boat.repairs.push_back({name, *std::move(job)});
        return std::nullopt;
    }

    /// What is wrong in a table of the repair, with its name.
    static Error of_repair(Error error, const std::string& name) {
        const std::string table = error.key.substr(0, error.key.find_first_of(".["));
        if (!error.key.empty() && !is_one_of(table, shared_tables()))
            error.key = "repair " + name + ", " + error.key;
        return error;
    }

    void read_remnants(BoatJob& boat) {
        const Node* list = tables(root_, "remnant", refusals_);
        if (list == nullptr) return;
        for (const Node& node : list->items) read_remnant(node, boat);
    }

    void read_remnant(const Node& node, BoatJob& boat) {
        const std::string number = std::to_string(boat.remnants.size() + 1);
        Remnant out;
        out.name = "remnant " + number;
        out.line = node.line;
        Job& job = boat.repairs.front().job;
        KeyReader<Remnant> table(refusals_, &node, "remnant[" + number + "]", remnant_keys(), out,
                                 job);
        table.rest();
        if (refusals_.first()) return;
        check_fabric(table, out, job);
        if (table.has("outline") == table.has("model"))
            table.refuse(
                table.has("model") ? "model" : "outline",
                "give its outline, [[x, y], ...], or a DXF file, model = \"left.dxf\", and "
                "not both");
        if (table.has("unit") && !table.has("model")) table.refuse("unit", "goes with model");
        if (table.has("outline") && out.outline.size() < 3)
            table.refuse("outline", "an outline needs at least 3 points");
        if (table.has("model")) {
            if (lower(std::filesystem::path(out.model_as_given).extension().string()) != ".dxf" ||
                out.model_as_given.find('\0') != std::string::npos)
                table.refuse("model", "must be a DXF file, its name ending in .dxf");
            out.model = file_.parent_path() / std::filesystem::path(out.model_as_given);
        }
        if (!out.locked.empty() && out.face_up == false)
            table.refuse("locked",
                         "outline the remnant with its face up, face = \"up\", to lock "
                         "pieces on it: they are laid face up");
        for (const Remnant& other : boat.remnants)
            if (lower(other.name) == lower(out.name))
                table.refuse("name", "two remnants have this name");
        boat.remnants.push_back(std::move(out));
    }

    static void check_fabric(TableReader& table, const Remnant& out, const Job& job) {
        const auto fabric = job.fabrics.find(out.fabric);
        if (fabric == job.fabrics.end()) {
            std::vector<std::string_view> names;
            for (const auto& [known, unused] : job.fabrics) names.push_back(known);
            return table.refuse("fabric", "no such fabric; the nearest known one is \"" +
                                              nearest_name(out.fabric, names) + "\"");
        }
        if (fabric->second.kind == FabricKind::mat) return;
        table.require("roll_direction",
                      "cloth is cut along its roll: say how the roll's length lies, in degrees "
                      "counter-clockwise from x");
        table.require("face",
                      "cloth has two faces: \"up\" or \"down\", which looked up when it was "
                      "outlined");
    }

    const Node& root_;
    const std::filesystem::path& file_;
    Refusals refusals_;
    Node one_;
};

/// Of a job file's tree.
bool is_boat(const Node& root) {
    return root.find("repair") != nullptr || root.find("remnant") != nullptr ||
           root.find("allow_overlap") != nullptr;
}

}  // namespace

bool is_boat(std::string_view text) {
    const auto root = parse_toml(text, "");
    return root && is_boat(*root);
}

Result<BoatJob> parse_boat(std::string_view text, const std::filesystem::path& file) {
    auto root = parse_toml(text, file.string());
    if (!root) return tl::unexpected(root.error());
    return BoatReader(*root, file, lines_of(text)).read();
}

Result<AnyJob> parse_any_job(std::string_view text, const std::filesystem::path& file) {
    if (is_blank(text)) return parse_job(text, file);
    auto root = parse_toml(text, file.string());
    if (!root) return tl::unexpected(root.error());
    if (is_boat(*root)) return BoatReader(*root, file, lines_of(text)).read();
    return job_of(*root, file, lines_of(text));
}

}  // namespace tearline::job
