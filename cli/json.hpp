#pragma once
/// A JSON value to build and write, so that only json.cpp reads the JSON library.

#include <concepts>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace loadline::cli {

/// Null, a boolean, a number, a text, a list, or an object whose members keep the order they were
/// put in: `Json{{"name", "A"}, {"values", std::vector{1.0, 2.0}}}`.
class Json {
public:
    struct Member;

    Json();  ///< null
    Json(std::nullptr_t);
    Json(bool value);
    Json(double value);
    template <std::signed_integral T>
    Json(T value);
    template <std::unsigned_integral T>
    requires(!std::same_as<T, bool>) Json(T value);
    Json(const char* text);
    Json(std::string_view text);
    Json(std::string text);
    Json(std::initializer_list<Member> members);
    /// Null without a value.
    template <class T>
    Json(const std::optional<T>& value);
    template <class T>
    Json(const std::vector<T>& values);

    static Json array();
    static Json array(std::vector<Json> values);
    static Json object();

    [[nodiscard]] bool is_null() const { return value_.index() == 0; }
    /// Of a list or an object; 0 of anything else.
    [[nodiscard]] std::size_t size() const;
    [[nodiscard]] bool empty() const { return size() == 0; }

    /// The member of this name, made at the end when it is not there; of null makes an object.
    /// Errors: std::logic_error on anything else.
    Json& operator[](std::string_view key);
    /// Null when it is not there, or this is no object.
    [[nodiscard]] const Json* find(std::string_view key) const;
    /// Adds to a list; of null makes one. Errors: std::logic_error on anything else.
    void push_back(Json value);

    /// Every text within, keys left out, put through `change`.
    void for_each_text(const std::function<std::string(const std::string&)>& change);

    /// One document over several lines, two blanks a level, ended by a line break. Bytes that are
    /// not UTF-8 are replaced; numbers that are not finite are null.
    [[nodiscard]] std::string document() const;
    /// The same on one line and in ASCII, without a line break.
    [[nodiscard]] std::string line() const;

private:
    friend struct JsonWriter;
    using Array = std::vector<Json>;
    using Object = std::vector<Member>;
    std::variant<std::monostate, bool, double, std::int64_t, std::uint64_t, std::string, Array,
                 Object>
        value_;
};

struct Json::Member {
    std::string key;
    Json value;
};

// Here, where what an object holds is known.
inline Json::Json() = default;
inline Json::Json(std::nullptr_t) {}
inline Json::Json(bool value) : value_(value) {}
inline Json::Json(double value) : value_(value) {}
template <std::signed_integral T>
Json::Json(T value) : value_(std::int64_t{value}) {}
template <std::unsigned_integral T>
requires(!std::same_as<T, bool>) Json::Json(T value) : value_(std::uint64_t{value}) {}
inline Json::Json(const char* text) : value_(std::string(text)) {}
inline Json::Json(std::string_view text) : value_(std::string(text)) {}
inline Json::Json(std::string text) : value_(std::move(text)) {}
template <class T>
Json::Json(const std::optional<T>& value) {
    if (value)
        *this = Json(*value);
}
template <class T>
Json::Json(const std::vector<T>& values) {
    *this = array();
    for (const T& value : values)
        push_back(value);
}

/// `text` with bytes that are not UTF-8 replaced.
std::string sound_text(std::string_view text);

}  // namespace loadline::cli
