// The words of a script's line, as the values an action needs. Whatever does not fit throws text::InputError with the
// file and the line.
#pragma once

#include "app/session/session.h"
#include "text/toml_reader.h" // listed()

#include <algorithm>
#include <charconv>
#include <initializer_list>
#include <string>
#include <utility>
#include <vector>

namespace holdtrue::app {

struct Arguments {
    const std::vector<std::string>& words; // the verb first
    const Session& session;
    const std::string& file;
    int line;

    [[noreturn]] void fail(std::string what, std::string fix) const {
        throw text::InputError(file, line, text::in_english(std::move(what)), text::in_english(std::move(fix)));
    }
    const std::string& word(std::size_t k) const {
        if (k >= words.size())
            fail(words[0] + " needs " + std::to_string(k) + " argument(s)", "add what is missing");
        return words[k];
    }
    double number(std::size_t k) const {
        const std::string& text = word(k);
        double value = 0;
        const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
        const std::string_view unit(end, static_cast<std::size_t>(text.data() + text.size() - end));
        if (error != std::errc() || !(unit.empty() || unit == "s" || unit == "C" || unit == "K"))
            fail("'" + text + "' is not a number", "write 60, 60s or 45C");
        return unit == "C" ? units::celsius(value) : value;
    }
    int integer(std::size_t k) const { return static_cast<int>(number(k)); }
    const part::Part& part() const {
        if (!session.has_exercise())
            fail("no exercise is open", "write an open line before this one");
        return session.part();
    }
    int found(int index, const std::string& name, const char* kind) const {
        if (index < 0)
            fail(std::string("there is no ") + kind + " '" + name + "'", "use a name of the part file");
        return index;
    }
    int pass(std::size_t k) const { return found(part::find_pass(part(), word(k)), word(k), "pass"); }
    int joint(std::size_t k) const { return found(part::find_joint(part(), word(k)), word(k), "joint"); }
    int pose(std::size_t k) const { return found(part::find_pose(part(), word(k)), word(k), "pose"); }
    int clamp(std::size_t k) const { return found(part::find_clamp(part(), word(k)), word(k), "clamp"); }
    int gauge(std::size_t k) const { return found(part::find_gauge(part(), word(k)), word(k), "gauge"); }
    int card(std::size_t k) const {
        part();
        const auto& cards = session.plan().cards;
        const auto at = std::ranges::find(cards, word(k), &arc::SettingCard::name);
        return found(at == cards.end() ? -1 : static_cast<int>(at - cards.begin()), word(k), "card");
    }
    int move(std::size_t k) const { return integer(k) - 1; } // people count from 1
    template <class E>
    E one_of(std::size_t k, std::initializer_list<std::pair<const char*, E>> known) const {
        std::vector<std::string> names;
        for (const auto& [name, value] : known) {
            if (word(k) == name)
                return value;
            names.emplace_back(name);
        }
        fail("'" + word(k) + "' is not known here", "write " + text::listed(names));
    }
};

} // namespace holdtrue::app
