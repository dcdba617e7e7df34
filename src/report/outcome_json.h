// An outcome and its mark as JSON, for programs. SI throughout, units in the key names; a gauge's numbers are metres
// or radians as its "unit" says; what could not be computed is null, never NaN.
//
//   schema           "holdtrue.outcome/1"
//   program_version, status ("finished" or "cancelled"), distortion_model, heat_steps
//   exercise         {name, title}            part  {name, title, node_count, cell_count}
//   plan             {title, trainee}
//   total_s, arc_s, setup_changes (how many), setup_change_s (what they took in all)
//   energy           {brought_j, stored_j, lost_to_air_j, lost_to_clamps_j, error}   error is relative
//   cards[]          {name, process, wire, gas, volts_v, wire_feed_m_per_s, travel_m_per_s, ...}
//   moves[]          {move (from 1), kind (weld, wait, turn, fix_clamp, free_clamp), start_s, end_s,
//                     gauge_change {gauge: m or rad}, and for welds: pass, reversed, card, setup_change {wire, gas,
//                     dials: whether it was changed}, setup_change_s, current_a, net_power_w, heat_input_j_per_m,
//                     heat_j, deposit_area_m2, leg_m, throat_m, interpass_k, peak_k, t85_s, width_500_m, width_800_m}
//   gauges[]         {name, title, kind, unit, nominal, value, error, tolerance, tolerance_source, within, band,
//                     band_source, after_move[], peak_k}
//   mark             {total, passed, why_not, pass_mark, aspects {aspect: {reached, possible}}, remarks[]}
//   nodes            {position_m[][3], panel[], peak_k[], displacement_m[][3] of the finished part}
//   frames[]         {time_s, move, arc_on, torch_m[3] or null, hottest_k}
#pragma once

#include "grading/exercise.h"
#include "grading/mark.h"
#include "weld/outcome.h"

#include <string>

namespace holdtrue::report {

std::string outcome_json(const grading::Exercise& exercise, const weld::Outcome& outcome, const grading::Mark& mark);

} // namespace holdtrue::report
