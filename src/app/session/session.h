// The session: what is open, what was chosen, what was found. The window reads it and sends it actions; every action
// can be asked first (`why_not`), and is applied in one place. It knows no widgets and no files but through the
// readers, so tests and scripts drive it as the window does. For one thread; simulations run in its worker.
#pragma once

#include "app/session/actions.h"
#include "app/session/among_orders.h"
#include "app/session/card_check.h"
#include "app/session/class_study.h"
#include "app/session/folder_list.h"
#include "app/session/logbook.h"
#include "app/session/plan_history.h"
#include "app/session/seen_outcomes.h"
#include "app/session/watched_files.h"
#include "app/session/worker.h"
#include "arc/propose.h"
#include "lesson/lesson.h"
#include "record/hand_in.h"
#include "text/input_error.h"
#include "text/sentence.h"
#include "weld/check_plan.h"
#include "weld/read_plan.h"

#include <functional>
#include <memory>
#include <optional>

namespace holdtrue::app {

using text::Sentence;
using text::worded;

// Where the program keeps and finds its files.
struct Places {
    std::filesystem::path assets, lessons; // shipped
    std::filesystem::path configuration;   // the user's: preferences, autosave
    std::filesystem::path record;          // the user's: the SQLite file of the record
};
Places usual_places();

// An exercise that ships with the program, as the list shows it.
struct ShippedExercise {
    std::filesystem::path file;
    std::string name, title;
    int level = 1;         // 1 easy to 3 hard
    int place = 99;        // among those of its level
    double pass_mark = 60; // of 100
};

struct Marked {
    std::shared_ptr<const weld::Outcome> outcome;
    grading::Mark mark;
    int revision = -1, work = -1;                // of the plan it belongs to
    units::System units = units::System::metric; // that the mark speaks in
};

enum class Question { none, save_first, hand_in_unfinished, recover };

class Session {
public:
    explicit Session(
        Places places, std::function<void()> wake = [] {});

    // What is open. Without an exercise there is no part, no shop and no plan to speak of.
    bool has_exercise() const { return exercise_ != nullptr; }
    const grading::Exercise& exercise() const { return *exercise_; }
    const part::Part& part() const { return *exercise_->part; }
    const arc::Shop& shop() const { return *exercise_->shop; }
    const std::shared_ptr<const part::Mesh>& mesh() const { return mesh_; }
    const weld::Plan& plan() const { return history_.plan(); }
    int revision() const { return history_.revision(); }
    bool can_undo() const { return history_.can_undo(); }
    bool can_redo() const { return history_.can_redo(); }
    bool unsaved() const { return has_exercise() && history_.revision() != saved_revision_; }
    weld::JobState job_state_at(int move) const; // before a move; below 0: after the last
    const std::vector<weld::PlanProblem>& plan_problems() const { return plan_problems_; }
    std::vector<Sentence> unfinished() const; // what the plan lacks to be a whole job

    // What the chosen card does on the chosen joint; null when it cannot be judged.
    const CardCheck* card_check() const { return card_check_ ? &*card_check_ : nullptr; }
    std::vector<int> card_joints() const; // joints the chosen card serves

    // Beside the job.
    const std::vector<lesson::Lesson>& lessons() const { return lessons_; } // read when they are first told of
    const Logbook& logbook() const { return logbook_; }
    const arc::Shop* check_shop() const; // the exercise's, else the first that ships; null: neither
    const QuickCard* quick_card() const { return quick_card_ ? &*quick_card_ : nullptr; }
    const arc::Window* quick_window() const {
        return quick_window_ ? &*quick_window_ : nullptr;
    } // of what was proposed
    const CardCheck* quick_check() const { return quick_check_ ? &*quick_check_ : nullptr; }

    const FolderList& looked_into() const { return looked_into_; }

    // The class that is marked, or was.
    const ClassChoice& class_choice() const { return class_choice_; }
    const MarkedClass* marked_class() const { return marked_class_ ? &*marked_class_ : nullptr; }
    bool class_busy() const { return class_study_.busy(); }

    // How many of the exercise's hints the one whose plan it is has been given.
    int hints_given() const { return hints_given_; }

    // What was found.
    const Marked* marked() const { return marked_ ? &*marked_ : nullptr; }
    bool marked_is_current() const { return marked_ && marked_->revision == history_.revision(); }
    // Whether the moves are welded with these cards; the mark may still be that of other predictions or fewer hints.
    bool work_is_welded() const { return marked_ && marked_->work == history_.work(); }
    // What had been predicted when the outcome of this very work was seen, now or earlier; null: it has not been, or
    // has become another.
    const std::vector<weld::Prediction>* predictions_held() const;
    int predictions_left() const; // that would count in the mark, and can still be made
    // The weld before, of the same exercise.
    const Marked* kept() const { return kept_ ? &*kept_ : nullptr; }
    const std::shared_ptr<const weld::Outcome>& preview() const { return preview_; } // heat only; may be null
    bool preview_is_current() const { return preview_ && preview_work_ == history_.work(); }
    bool preview_is_rough() const { return preview_is_rough_; } // one on a finer mesh is on its way
    double preview_took_s() const { return preview_took_s_; }
    const Worker& worker() const { return worker_; }
    const AmongOrders* among_orders() const { return among_orders_ ? &*among_orders_ : nullptr; }
    bool among_orders_is_current() const { return among_orders_ && among_orders_->revision == history_.revision(); }
    bool among_orders_busy() const { return among_study_.busy(); }
    double among_orders_share() const { return among_study_.share(); }

    const View& view() const { return view_; }
    double exaggeration() const; // the one in force
    int shown_pose() const;      // how the part lies in the view
    scene::Box room_box() const; // about the part as it lies, in the room
    const Preferences& preferences() const { return preferences_; }
    const Places& places() const { return places_; }
    const std::vector<ShippedExercise>& exercises() const { return exercises_; } // shipped, easy to hard
    const std::vector<text::Problem>& problems() const { return problems_; }     // of files, to be shown
    const std::optional<Sentence>& news() const { return news_; }                // what the last action did
    Question question() const { return question_; }
    bool should_close() const { return should_close_; }

    // Why an action is not possible now, for the person who wants it; nothing if it is.
    std::optional<Sentence> why_not(const Action& action) const;
    // An action that is not possible changes nothing and puts its reason into news().
    void apply(const Action& action);
    void apply(const Actions& actions) {
        for (const Action& action : actions)
            apply(action);
    }

    // Once per frame: what the worker finished, and the clock of the weld bench.
    bool take_finished();
    void advance(double real_s);
    bool playing() const { return view_.playing; }
    // When nothing moves: keeps a copy of an unsaved plan, for recovery.
    void rest();
    // Reads anew what has changed on disk of the exercise, its part, its shop and the plan; whether anything has.
    bool look_for_changed_files();

private:
    struct Applier; // applier.h
    struct Asker;   // session_ask.cpp
    // What deals with files is in session_files.cpp.

    int card_for(int pass) const;
    void open(const std::filesystem::path& named);
    std::filesystem::path exercise_in_hand_out(const std::filesystem::path& file) const;
    void hand_in(const std::filesystem::path& file, bool as_it_is);
    // A plan or hand-in for an exercise, which is put on the bench in the plan's variant. All is read before anything
    // is given up. `name`: of the exercise, as a hand-in must tell it.
    weld::Plan take_up(const std::filesystem::path& file, const std::filesystem::path& exercise,
                       const std::string& name = {});
    weld::Plan take_up(const record::Submission& submission, const std::filesystem::path& told_as,
                       const std::filesystem::path& exercise);
    void set_exercise(grading::Exercise asked);
    void start_anew(); // the exercise in the variant of whoever is at the bench, with a fresh plan
    std::filesystem::path exercise_named(const std::string& name, const std::filesystem::path& wanted_by) const;
    bool asks_first(const Action& action, bool even_unsaved);
    void go_on_if_saved();
    void save(const std::filesystem::path& file);
    void watch_files();
    void read_plan_anew();
    void read_exercise_anew();
    void begin_plan(weld::Plan plan, bool saved);
    void start_weld(std::shared_ptr<const weld::Outcome> simulated); // null: the plan's work is yet to be simulated
    void take(Finished finished);
    void word_mark();   // has the worker put the mark into the preferred units
    void keep_marked(); // for comparison with the next
    void change_plan(weld::Plan plan, std::string gesture = {});
    void plan_changed();
    void choose_move(int move); // and with it its pass, or none if it is no weld; below 0: no move
    void keep_choice();         // of a move, where the plan has become another
    void check_chosen_card();
    void check_quick_card();
    void prepare_bench(); // what a bench beside the job reads when it is first shown
    void log_attempt();
    std::string trainee_name() const; // who is at the bench; empty: nobody said
    bool plan_is_own() const;         // whose record counts its hints and keeps its marks
    void count_hints();
    void trainee_changed();
    void guarded(const std::function<void()>& work); // shows an InputError as problems
    void save_preferences_now();
    std::filesystem::path autosave_file() const;

    Places places_;
    Preferences preferences_;
    std::vector<ShippedExercise> exercises_;
    std::shared_ptr<const grading::Exercise> exercise_;
    std::shared_ptr<const part::Mesh> mesh_;
    PlanHistory history_;
    WatchedFiles watched_;
    std::filesystem::path not_opened_; // for the mistakes that problems_ tells of
    int saved_revision_ = 0, autosaved_revision_ = 0;
    weld::JobState job_state_;
    std::vector<weld::PlanProblem> plan_problems_;
    std::optional<arc::RuleBook> rule_book_; // read when the first exercise is opened
    std::optional<CardCheck> card_check_, quick_check_;
    std::optional<QuickCard> quick_card_;
    std::optional<arc::Window> quick_window_;
    std::shared_ptr<const arc::Shop> shipped_shop_;
    std::vector<lesson::Lesson> lessons_;
    Logbook logbook_;
    int hints_given_ = 0;
    FolderList looked_into_;
    ClassChoice class_choice_;
    std::optional<MarkedClass> marked_class_;
    std::int64_t opened_ms_ = 0; // when the exercise was
    std::optional<Marked> marked_, kept_;
    SeenOutcomes seen_;
    std::optional<AmongOrders> among_orders_;
    std::shared_ptr<const weld::Outcome> preview_;
    int preview_work_ = -1;
    int simulated_work_ = -1; // of what was last given to the worker, or found not to be possible
    bool preview_is_rough_ = false;
    double preview_took_s_ = 0;
    View view_;
    std::vector<text::Problem> problems_;
    std::optional<Sentence> news_;
    Question question_ = Question::none;
    std::optional<Action> asked_about_; // what the question holds up
    bool should_close_ = false;
    Worker worker_; // these last: their threads use nothing above, but stop first
    AmongOrdersStudy among_study_;
    ClassStudy class_study_;
};

// Where what a remark speaks of is put right: the setup for settings, the order for a move; nothing: a gauge alone.
std::optional<Bench> bench_of(const grading::Remark& remark);

// The plan a trainee (empty: nobody) starts from: no moves, and cards that are to be set (weld/starting_plan.h).
weld::Plan fresh_plan(const grading::Exercise& exercise, const std::string& trainee);

} // namespace holdtrue::app
