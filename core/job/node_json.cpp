#include "core/job/node_json.h"

#include <nlohmann/json.hpp>

#include "core/base/printable.h"

namespace tearline::job {

namespace {

nlohmann::ordered_json json_of(const Node& node) {
    using Json = nlohmann::ordered_json;
    switch (node.kind) {
        case Node::Kind::table: {
            Json object = Json::object();
            for (const Node& item : node.items) object[item.key] = json_of(item);
            return object;
        }
        case Node::Kind::array: {
            Json list = Json::array();
            for (const Node& item : node.items) list.push_back(json_of(item));
            return list;
        }
        case Node::Kind::text:
            return valid_text(node.text);  // the name of a file is any text
        case Node::Kind::number:
            return node.integer ? Json(static_cast<int>(node.number)) : Json(node.number);
        case Node::Kind::boolean:
            return node.truth;
        case Node::Kind::time:
        case Node::Kind::nothing:
            break;
    }
    return {};
}

}  // namespace

std::string json_text(const Node& node) {
    return json_of(node).dump();
}

}  // namespace tearline::job
