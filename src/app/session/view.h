// What the window shows and how, apart from the plan: kept by the session so that scripts and tests can set it, never
// saved with a plan.
#pragma once

#include "app/scene/camera.h"
#include "part/mesh.h"

#include <array>
#include <optional>

namespace holdtrue::app {

// The five benches along the job, then those beside it.
enum class Bench { brief, setup, order, weld, inspect, lessons, record, check };
inline constexpr std::array benches{Bench::brief,   Bench::setup,   Bench::order,  Bench::weld,
                                    Bench::inspect, Bench::lessons, Bench::record, Bench::check};
inline constexpr int benches_of_the_job = 5;

// The pages of the record: one trainee's history, or a class that is marked.
enum class RecordPage { own, school_class };

// Of the inspect bench: the heat at a place, what each move did to a gauge, where the plan stands among other orders.
enum class Chart { heat, moves, orders };

enum class Field { none, temperature, peak, temper_colours };

struct View {
    Bench bench = Bench::brief;
    scene::Camera camera;
    bool fitted = true; // the camera comes as near as lets the whole part be seen, in whatever view
    // Asked for; the view of the part knows how high it is and where it is fitted.
    double shift_right = 0, shift_up = 0; // in its heights
    double nearer = 1;                    // by so many times
    Field field = Field::temperature;
    bool isotherms = true;
    bool numbers = true;
    bool deformed = true;
    double exaggeration = 0; // 0: as suggested for the outcome

    double time_s = 0; // the clock of the weld bench
    bool playing = false;
    double speed = 60; // seconds of the job per second

    int pass = -1, move = -1, gauge = -1, card = 0; // chosen; -1: none
    int joint = -1;                                 // on which the chosen card is judged; -1: the first it serves
    std::optional<part::Attachment> probe;          // the place whose temperature is plotted
    Chart chart = Chart::heat;
    bool compare = false;                           // beside the plan kept for comparison
    bool shortcuts_shown = false;

    RecordPage record_page = RecordPage::own;
};

} // namespace holdtrue::app
