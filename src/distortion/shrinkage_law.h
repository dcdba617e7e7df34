// How much the groups of a job shrink: the table of every kind of pass in it (shrinkage.h), made once and looked up.
#pragma once

#include "distortion/evaluate.h"
#include "distortion/shrinkage.h"
#include "distortion/weld_group.h"

#include <map>
#include <tuple>

namespace holdtrue::distortion {

// Of one group, once cold; both panels in the order a, b.
struct GroupShrinkage {
    std::array<double, 2> tendon_n{};  // pull along the weld; a plug: force times length [N m]
    double half_width_m = 0;           // of the strips that carry it
    double strip_area_m2 = 0;          // their metal, both panels
    std::array<double, 2> across_m{};  // shortening across the weld
    std::array<double, 2> angle_rad{}; // bend of the sheet, towards the weld
};

// To find bands: how far to go from the figures used, in parts of their own spans (-1 to 1).
struct ShrinkageError {
    double tendon = 0; // of the distance to the force with the other yield curve
    double rules = 0;  // towards the most (or the least) that published rules say across the weld and of the angle
};

class ShrinkageLaw {
public:
    // `tables`: those made before, and where new ones are kept.
    ShrinkageLaw(const part::Part& part, const part::Mesh& mesh,
                 std::shared_ptr<TendonTables> tables = std::make_shared<TendonTables>())
        : part_(&part), mesh_(&mesh), tendon_tables_(std::move(tables)) {}

    // Makes the tables that these steps need, some 0.1 s for each kind of pass. Heat is rounded to 3 %, between which
    // forces are scaled.
    void prepare(const std::vector<Step>& steps);

    // The step's kind of pass must have been prepared. `prior_stress_pa`: along the weld, before the pass, mean over
    // both panels, tension positive. Any thread, once prepared.
    GroupShrinkage of(const WeldGroup& group, const Step& step, double prior_stress_pa,
                      const ShrinkageError& error = {}) const;

private:
    struct Sides {
        Member a, b;
        bool b_across = false;
    };
    // joint, heat step, travel [0.1 mm/s], deposit [mm^2 / 10]
    using Kind = std::tuple<int, int, int, int>;
    Kind kind_of(const Step& step) const;
    Sides find_sides(int joint) const;

    const part::Part* part_;
    const part::Mesh* mesh_;
    std::shared_ptr<TendonTables> tendon_tables_;
    std::map<Kind, ShrinkageTable> tables_;
    std::map<int, Sides> sides_; // by joint
};

} // namespace holdtrue::distortion
