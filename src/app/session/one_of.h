// One value of one of the kinds listed, on the heap and never changed, so that copies share it. What std::variant is to
// few kinds, this is to many: there, every file that copies one compiles a copy and a move for each kind.
#pragma once

#include <concepts>
#include <cstddef>
#include <memory>
#include <utility>

namespace holdtrue::app {

template <class... Kinds>
class OneOf {
public:
    template <class Kind>
    requires(std::same_as<Kind, Kinds> || ...) OneOf(Kind value)
        : visited_as_(place_of<Kind>()), held_(std::make_shared<const Kind>(std::move(value))) {}

    // visitor(const Kind&) takes every kind and returns the same type for each.
    template <class Visitor>
    decltype(auto) visit(const Visitor& visitor) const {
        using Result = std::common_type_t<decltype(visitor(std::declval<const Kinds&>()))...>;
        using Call = Result (*)(const Visitor&, const void*);
        static constexpr Call calls[] = {
            [](const Visitor& to, const void* held) -> Result { return to(*static_cast<const Kinds*>(held)); }...};
        return calls[visited_as_](visitor, held_.get());
    }

private:
    template <class Kind>
    static constexpr std::size_t place_of() {
        std::size_t place = 0;
        static_cast<void>(((std::same_as<Kind, Kinds> || (++place, false)) || ...));
        return place;
    }

    std::size_t visited_as_;
    std::shared_ptr<const void> held_;
};

} // namespace holdtrue::app
