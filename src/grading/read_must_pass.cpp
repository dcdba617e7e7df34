#include "grading/read_must_pass.h"

#include "grading/exercise.h"
#include "part/part_tables.h"
#include "text/names.h"

#include <algorithm>

namespace holdtrue::grading {

using text::worded;

std::vector<std::string> read_must_pass(text::Table& table, const part::Part& part, const arc::RuleBook& rules) {
    const std::vector<std::string> gauges = part::names_of(part.gauges);
    std::vector<std::string> known = gauges;
    known.insert(known.end(), {must_be_tacked, must_stay_cool});
    for (const arc::Rule& rule : rules.rules())
        known.push_back(rule.id);
    std::vector<std::string> names = table.texts("must_pass", false);
    for (const std::string& name : names) {
        if (std::ranges::find(known, name) != known.end())
            continue;
        if (std::ranges::find(rules.unjudged(), name, &arc::Rule::id) != rules.unjudged().end())
            table.problem("must_pass", {worded("must_pass names rule {0}, which this program cannot judge"), {name}},
                          worded("use the program that the rules came with, or take the name out"));
        else
            table.problem(
                "must_pass",
                {worded("must_pass names \"{0}\", which is neither a gauge nor a rule, tacks or interpass"), {name}},
                text::did_you_mean(
                    name, known,
                    {worded("gauges: {0}; 'holdtrue rules' in a terminal lists the rules"), {text::one_of(gauges)}}));
    }
    return names;
}

} // namespace holdtrue::grading
