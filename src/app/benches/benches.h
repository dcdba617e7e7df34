// The benches: each draws one, from the session and from scratch of its own, and adds the actions it was asked for.
#pragma once

#include "app/dialogs.h"
#include "app/ui/part_view.h"
#include "app/ui/ui.h"
#include "lesson/question.h"

namespace holdtrue::app {

struct BriefState {
    PartViewState view;
    std::string read_for; // the exercise whose text is shown: another one begins at its top
};
struct SetupState {};
struct OrderState {
    PartViewState view;
    std::string exercise;     // whose joints these are, and what stood below its moves
    std::vector<bool> joints; // chosen for a pattern
    float below_px = 0;       // the most that stood below the moves, at a scale of 1
    int kind = 0, pattern = 0;
    double wait_s = 60, until_below_k = 333.15;
    bool wait_until = false;
    int dragged = -1;
    int framed = -1;   // the move whose row is in the keyboard's frame
    int in_sight = -1; // the chosen one, whose row was brought into sight
};
struct WeldState {
    PartViewState view, compared;
    int pointed_gauge = -1; // in the list of predictions
    float start_height = 0; // of what stands below that list
};
struct InspectState {
    PartViewState view;
    std::shared_ptr<const weld::Outcome> read; // another outcome is read from its mark on
};
struct LessonsState {
    std::vector<lesson::Lesson> lessons; // in the window's language
    std::string language;                // of those
    int chosen = -1;
    std::vector<double> inputs; // of the figure, SI
    struct Asked {
        lesson::Posed posed;
        std::string typed;
        std::optional<lesson::Judgement> answer;
        double since_s = 0;
    };
    std::vector<Asked> asked; // of the lesson's questions
    std::uint64_t seed = 1;   // of the next question: other values each time
};
struct RecordState {
    std::string name; // typed
};
struct CheckState {};

void draw_brief(Ui& ui, const Session& session, BriefState& state, Actions& out);
void draw_setup(Ui& ui, const Session& session, SetupState& state, Actions& out);
void draw_order(Ui& ui, const Session& session, OrderState& state, Actions& out);
void draw_weld(Ui& ui, const Session& session, WeldState& state, Actions& out);
void draw_inspect(Ui& ui, const Session& session, InspectState& state, Actions& out);
void draw_lessons(Ui& ui, const Session& session, LessonsState& state, Actions& out);
void draw_record(Ui& ui, const Session& session, RecordState& state, FileQuestion& question, Actions& out);
void draw_check(Ui& ui, const Session& session, CheckState& state, Actions& out);

} // namespace holdtrue::app
