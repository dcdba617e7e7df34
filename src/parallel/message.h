// Values as bytes, from one rank to another of the same program on the same kind of machine: byte order is not
// converted, and what arrives is equal to the last bit.
//
// Numbers, enums, strings, vectors, arrays and optionals go as they are. A struct goes member by member if there is,
// in its own namespace, a function that names them all; structured bindings make a forgotten one a compile error:
//   template <parallel::Is<Point> P> auto fields(P& point) {
//       auto& [x, y] = point;
//       return std::tie(x, y);
//   }
#pragma once

#include "text/sentence.h"
#include "text/verify.h"

#include <array>
#include <concepts>
#include <cstdint>
#include <cstring>
#include <optional>
#include <string>
#include <string_view>
#include <tuple>
#include <type_traits>
#include <vector>

namespace holdtrue::parallel {

template <class T, class U>
concept Is = std::same_as<std::remove_const_t<T>, U>;

template <class T>
concept Plain = std::is_arithmetic_v<T> || std::is_enum_v<T>;

class Writer {
public:
    template <Plain T>
    void put(T value) {
        bytes_.append(reinterpret_cast<const char*>(&value), sizeof value);
    }
    void put(const std::string& text) {
        put(static_cast<std::uint64_t>(text.size()));
        bytes_ += text;
    }
    template <class T>
    void put(const std::vector<T>& values) {
        put(static_cast<std::uint64_t>(values.size()));
        for (const T& value : values)
            put(value);
    }
    template <class T, std::size_t n>
    void put(const std::array<T, n>& values) {
        for (const T& value : values)
            put(value);
    }
    template <class T>
    void put(const std::optional<T>& value) {
        put(value.has_value());
        if (value)
            put(*value);
    }
    template <class T>
    requires requires(const T& value) { fields(value); }
    void put(const T& value) {
        std::apply([this](const auto&... each) { (put(each), ...); }, fields(value));
    }

    const std::string& bytes() const { return bytes_; }

private:
    std::string bytes_;
};

class Reader {
public:
    explicit Reader(std::string_view bytes) : rest_(bytes) {}

    template <Plain T>
    void get(T& value) {
        std::memcpy(&value, take(sizeof value).data(), sizeof value);
    }
    void get(std::string& text) { text = take(count()); }
    template <class T>
    void get(std::vector<T>& values) {
        values.resize(count());
        for (T& value : values)
            get(value);
    }
    template <class T, std::size_t n>
    void get(std::array<T, n>& values) {
        for (T& value : values)
            get(value);
    }
    template <class T>
    void get(std::optional<T>& value) {
        bool there = false;
        get(there);
        value.reset();
        if (there)
            get(value.emplace());
    }
    template <class T>
    requires requires(T& value) { fields(value); }
    void get(T& value) {
        std::apply([this](auto&... each) { (get(each), ...); }, fields(value));
    }

    bool at_end() const { return rest_.empty(); }

private:
    std::string_view take(std::size_t size) {
        VERIFY(size <= rest_.size(), "a message is as long as it says");
        const std::string_view taken = rest_.substr(0, size);
        rest_.remove_prefix(size);
        return taken;
    }
    std::size_t count() {
        std::uint64_t size = 0;
        get(size);
        VERIFY(size <= rest_.size(), "a message is as long as it says"); // every entry takes a byte or more
        return size;
    }

    std::string_view rest_;
};

} // namespace holdtrue::parallel

namespace holdtrue::text {
template <class S>
requires std::derived_from<std::remove_const_t<S>, Sentence>
auto fields(S& sentence) { return std::tie(sentence.pattern, sentence.parts, sentence.translates); }
} // namespace holdtrue::text
