// What `holdtrue setup` answers, as a table for people and as JSON for programs.
#pragma once

#include "command_line/setup_request.h"

#include <nlohmann/json_fwd.hpp>

#include <string>

namespace holdtrue::command_line {

struct SetupAnswer {
    arc::SettingCard card;
    arc::SetupFigures figures;
    std::vector<arc::Finding> findings;
    arc::Proposal proposal; // empty where nothing was left open
    bool proposed = false;
};

std::string setup_text(const SetupRequest& request, const SetupAnswer& answer, bool all_rules);
// SI units throughout, keys end in their unit; "units" names the system of the sentences. Never a NaN: what is not
// known is null.
nlohmann::json setup_json(const SetupRequest& request, const SetupAnswer& answer);

} // namespace holdtrue::command_line
