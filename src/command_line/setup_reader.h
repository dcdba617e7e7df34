// Makes a request of the flags of `holdtrue setup` and collects everything that is wrong with them. Its two halves:
// setup_reader_shop.cpp (what is on hand) and setup_reader_joint.cpp (the joint and how it is welded).
#pragma once

#include "command_line/quantity_argument.h"
#include "command_line/setup_request.h"

#include <initializer_list>
#include <utility>
#include <vector>

namespace holdtrue::command_line {

// One of a set of words.
template <class E>
E choice(QuantityArguments& arguments, const std::string& option, const std::string& words,
         std::initializer_list<std::pair<const char*, E>> known) {
    std::vector<std::string> names;
    for (const auto& [name, value] : known) {
        if (words == name)
            return value;
        names.emplace_back(name);
    }
    const std::string near = text::nearest(words, names);
    arguments.problem(option + " \"" + words + "\" is not known",
                      (near.empty() ? std::string() : "did you mean " + near + "? ") + "It can be " +
                          text::listed(names));
    return known.begin()->second;
}

class SetupReader {
public:
    SetupReader(const SetupFlags& flags, units::System system) : flags_(flags), arguments_(system) {
        request_.system = system;
    }

    SetupRequest read() {
        read_process();
        read_shop();
        read_wire();
        read_gas();
        read_joint();
        read_details();
        read_surroundings();
        read_settings();
        arguments_.finish();
        fill_in();
        return std::move(request_);
    }

private:
    const units::Unit& bare(const units::Dimension& dimension) const {
        const bool metric = request_.system == units::System::metric;
        return metric ? dimension.units.front() : units::workshop_unit(dimension, request_.system);
    }
    std::optional<double> quantity(const char* option, const std::string& words, const units::Dimension& dimension,
                                   text::Range range) {
        return arguments_.quantity(option, words, dimension, bare(dimension), range);
    }
    std::optional<double> length(const char* option, const std::string& words, double low_mm, double high_mm) {
        return quantity(option, words, units::length, {low_mm * units::mm, high_mm * units::mm});
    }
    void only(bool fits, const char* option, const std::string& words, const char* what_for) {
        if (!words.empty() && !fits)
            arguments_.problem(std::string(option) + " does not go with this joint or process",
                               std::string("leave it out; it is for ") + what_for);
    }

    void read_process();
    void read_shop();
    void read_wire();
    void read_gas();
    void read_joint();
    void read_details();
    void read_surroundings();
    void read_settings();
    void fill_in();
    bool tig() const { return request_.card.process == arc::Process::tig_141; }
    std::optional<double> from_dial(const char* option, const std::string& words, bool volts);

    const SetupFlags& flags_;
    QuantityArguments arguments_;
    SetupRequest request_;
};

} // namespace holdtrue::command_line
