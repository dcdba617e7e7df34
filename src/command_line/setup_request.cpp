#include "command_line/setup_request.h"

#include "command_line/setup_reader.h"

namespace holdtrue::command_line {
namespace {

units::System system_of(const std::string& words) {
    if (words == "imperial")
        return units::System::imperial;
    if (words == "metric")
        return units::System::metric;
    throw text::InputError("", 0, text::in_english("--units \"" + words + "\" is not known"),
                           text::in_english("it can be metric or imperial"));
}

} // namespace

SetupRequest read_request(const SetupFlags& flags) { return SetupReader(flags, system_of(flags.units)).read(); }

} // namespace holdtrue::command_line
