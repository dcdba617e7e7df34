// One job on a part, step by step: groups are laid, cool and shrink; clamps hold and let go; faces meet.
//
//   fixture   holds every panel, on the mean, where it was drawn, until it is tied to others
//   birth     a group's ties begin to bear at the place where the hot part has them, free of force
//   lag       a group's shrinkage grows as its place cools, from 0 at 500 C to all of it at 80 C, never back
//   yielding  a laid group's strips are at yield: when later work stretches them further they give, and pull less for
//             good by E A de, de the strain beyond the largest they had since their pass began
//   annealing where a pass runs over strips of an earlier one, that one's pull is gone for the part that is covered
//   remelting a tack that is welded over loses its ties and its own shrinkage
//   contact   faces along seams that are not yet welded may touch but not cross (frictionless, at group middles)
// Left out: friction, modulus that falls with heat, creep, buckling, the fields inside a pass (between the
// temperatures at its start and end, interpolated), gravity.
#pragma once

#include "distortion/evaluate.h"
#include "distortion/response.h"
#include "distortion/shrinkage_law.h"

namespace holdtrue::distortion {

// When a job looks whether faces touch and strips yield, and how closely.
struct Watch {
    // Both where a group is laid, at the end of every move and after every yielding; else whether strips yield where a
    // pass begins, a clamp is freed and at the end, and faces besides where a group is laid.
    bool closely = true;
    // So tight that a face left open, or pressing, within them changes no reading.
    double slack_m = 1e-10, slack_n = 1e-6;
};
// For many orders: a third less work; over random orders of the lift arm gauges correlate by 0.998 with the close
// watch.
constexpr Watch brief_watch{.closely = false, .slack_m = 5e-6, .slack_n = 5};

struct JobSettings {
    ShrinkageError error = {};
    double hot_k = 773.15, cold_k = 353.15; // between which shrinkage develops
    bool contact = true;
    Watch watch = {};
    int tied_groups = 2; // the fixture holds each panel until so many groups tie it to others
};

class JobRun {
public:
    struct State;
    // `law` must be prepared for the steps that will be played.
    JobRun(const PartModel& model, Response& response, const ShrinkageLaw& law, const JobSettings& settings = {});
    // Goes on with a job between two steps, whose response was copied then.
    JobRun(const PartModel& model, Response& response, const ShrinkageLaw& law, const JobSettings& settings,
           const State& state);

    // `heat` at the end of the step must outlive this; without any the job stays cold, and only what ties and stress
    // do is left.
    void play(const Step& step, const StepHeat* heat = nullptr);
    void finish(); // ambient temperature, every clamp freed

    std::vector<double> gauges();                 // readings now
    Eigen::Matrix<double, 6, 1> frame();          // mean motion of the part now
    double deepest_overlap_m();                   // of open faces; 0 if none cross
    bool settled() const { return now_.settled; } // contact found its answer every time

    struct Laid {
        int group = 0;
        int tendon = 0, other = 0; // actions: pull along the weld; shrinkage across it and angle
        double strain = 0;         // along the weld, the largest that its strips had since the pass began
        double tendon_n = 0, strip_area_m2 = 0, half_width_m = 0;
        double left = 1;       // of the tendon force
        bool off_ramp = false; // its pull no longer grows as foreseen when the step began
        double grown = 0, grown_at_start = 0, grown_at_end = 0;
        double born = -1; // share of the present step; -1: before it
    };
    // Of a group: what holds its two faces. One that is remelted leaves its place to the weld that ran over it.
    enum class Faces : char { apart, touching, tied, remelted };
    // All that a job between two steps is, beside its response.
    struct State {
        std::vector<Laid> laid;
        std::vector<Faces> faces;         // group_count
        std::vector<char> clamped;        // clamp_count
        std::vector<int> ties_of_panel;   // panel_count; how many groups tie it
        int heat_start = 0, heat_end = 0; // actions
        bool settled = true;
    };
    const State& state() const { return now_; }

private:
    void weld(const Step& step);
    void lay(int group, const Step& step, double prior_strain, double share);
    bool relax();
    void anneal(int group, double half_width_m);
    void remelt_tacks(int group);
    void begin_heat(const StepHeat* heat);
    void heat_to(double share);
    void look();
    double grown_at(int group) const; // share of its shrinkage that a group has at the end of the step
    double gap_of(int group) const;   // between the faces as drawn
    void settle();
    void fix_tie(int group);

    const PartModel& model_;
    Response& response_;
    const ShrinkageLaw& law_;
    JobSettings settings_;
    State now_;
    const StepHeat* heat_ = nullptr; // of the present step
};

} // namespace holdtrue::distortion
