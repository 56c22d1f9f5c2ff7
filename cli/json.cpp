#include "cli/json.hpp"

#include <nlohmann/json.hpp>
#include <stdexcept>
#include <type_traits>

namespace loadline::cli {

// Into the library's own value, which knows how to write it.
struct JsonWriter {
    using Library = nlohmann::ordered_json;
    static constexpr auto replace = Library::error_handler_t::replace;

    static Library of(const Json& json) {
        return std::visit([](const auto& value) { return of_value(value); }, json.value_);
    }

private:
    template <class T>
    static Library of_value(const T& value) {
        if constexpr (std::is_same_v<T, std::monostate>) {
            return nullptr;
        } else if constexpr (std::is_same_v<T, Json::Array>) {
            Library list = Library::array();
            for (const Json& item : value)
                list.push_back(of(item));
            return list;
        } else if constexpr (std::is_same_v<T, Json::Object>) {
            Library object = Library::object();
            for (const Json::Member& member : value)
                object[member.key] = of(member.value);
            return object;
        } else {
            return value;
        }
    }
};

Json::Json(std::initializer_list<Member> members) : value_(Object(members)) {}

Json Json::array() {
    return array(std::vector<Json>());
}

Json Json::array(std::vector<Json> values) {
    Json json;
    json.value_ = std::move(values);
    return json;
}

Json Json::object() {
    Json json;
    json.value_ = Object();
    return json;
}

std::size_t Json::size() const {
    if (const auto* const list = std::get_if<Array>(&value_))
        return list->size();
    const auto* const object = std::get_if<Object>(&value_);
    return object != nullptr ? object->size() : 0;
}

const Json* Json::find(std::string_view key) const {
    if (const auto* const object = std::get_if<Object>(&value_))
        for (const Member& member : *object)
            if (member.key == key)
                return &member.value;
    return nullptr;
}

Json& Json::operator[](std::string_view key) {
    if (is_null())
        value_ = Object();
    auto* const object = std::get_if<Object>(&value_);
    if (object == nullptr)
        throw std::logic_error("a member of a JSON value that is no object");
    for (Member& member : *object)
        if (member.key == key)
            return member.value;
    return object->emplace_back(Member{std::string(key), Json()}).value;
}

void Json::push_back(Json value) {
    if (is_null())
        value_ = Array();
    auto* const list = std::get_if<Array>(&value_);
    if (list == nullptr)
        throw std::logic_error("an item put in a JSON value that is no list");
    list->push_back(std::move(value));
}

void Json::for_each_text(const std::function<std::string(const std::string&)>& change) {
    if (auto* const text = std::get_if<std::string>(&value_))
        *text = change(*text);
    if (auto* const list = std::get_if<Array>(&value_))
        for (Json& item : *list)
            item.for_each_text(change);
    if (auto* const object = std::get_if<Object>(&value_))
        for (Member& member : *object)
            member.value.for_each_text(change);
}

std::string Json::document() const {
    return JsonWriter::of(*this).dump(2, ' ', false, JsonWriter::replace) + "\n";
}

std::string Json::line() const {
    return JsonWriter::of(*this).dump(-1, ' ', true, JsonWriter::replace);
}

std::string sound_text(std::string_view text) {
    // Through the library's own replacement of bytes that are not UTF-8.
    const nlohmann::json json = std::string(text);
    return nlohmann::json::parse(
               json.dump(-1, ' ', false, nlohmann::json::error_handler_t::replace))
        .get<std::string>();
}

}  // namespace loadline::cli
