// Everything that can be asked of the session, as values. A bench reads the session and adds actions; the session
// applies them at one place per frame. A list of actions is a test, and a demo: each has a written form, one a line
// (action_text.h).
#pragma once

#include "app/scene/camera.h"
#include "app/session/one_of.h"
#include "app/session/plan_edit.h"
#include "app/session/preferences.h"
#include "app/session/view.h"
#include "arc/arc.h"

#include <cstdint>
#include <filesystem>
#include <string>
#include <vector>

// One action a line, as a list is read.
// clang-format off
namespace holdtrue::app::act {

// Files
// What would throw away a plan that is not saved asks first, unless it is told that it need not (even_unsaved).
struct Open { std::filesystem::path file; bool even_unsaved = false; }; // exercise, plan or hand-in; a folder: of a class
struct Save {};                                                         // where the plan came from
struct SaveAs { std::filesystem::path file; };
struct HandIn { std::filesystem::path file; bool as_it_is = false; }; // the plan, for the instructor; asks first if it is not finished
struct NewPlan { bool even_unsaved = false; };
struct LookInto { std::filesystem::path folder; bool to_save = false; }; // to choose a file there; empty: where one is likely to be
struct Recover {};         // what autosave kept from a session that did not end well
struct ForgetRecovery {};
struct DismissProblems {};
struct Quit { bool even_unsaved = false; };
struct GoOn {};            // answers to what was asked first: without saving (Save: with it), handed in as it is
struct StayOpen {};        // not at all

// The plan
struct Undo {};
struct Redo {};
struct WeldNext { int pass; };        // appends it; if it is in the plan already, turns its direction round
struct ReverseMove { int move; };
struct RemoveMove { int move; };
struct ShiftMove { int from, to; };
struct AddWait { double time_s = 0; double until_below_k = 0; int at = -1; }; // 0: not asked; at: its number, -1: the last
struct WaitBeforeRuns { double time_s = 0; double until_below_k = 0; }; // and plugs; where a wait stands already, it stays
struct SetWait { int move; double time_s; double until_below_k; };
struct AddTurn { int pose; int at = -1; };
struct AddClamp { int clamp; bool fix; int at = -1; };
struct LayOut { std::vector<int> joints; part::PassKind kind; Pattern pattern; };
struct ClearMoves {};
struct SetMoveCard { int move, card; };
struct ChangeCard { int card; arc::SettingCard value; std::string field; }; // field names the gesture
struct AddCard { std::string group; };                                      // a card of its own for tacks, plugs or a group
struct Predict { int gauge; weld::Sense sense; };
struct TakeHint {}; // the next one; it costs marks

// The simulation
struct StartWeld {};
struct CancelWeld {};
struct CompareOrders {}; // where the welded plan stands among random orders
struct StopComparing {};
struct TryAgain {}; // goes to the bench where the gravest remark is put right

// Beside the job
struct AddTrainee { std::string name; };
struct ChooseTrainee { std::int64_t id; };
struct ShowRecordPage { RecordPage page; };
struct OpenAttempt { int attempt; bool even_unsaved = false; }; // of the record's list: its plan, on the bench
struct ChooseClass { std::filesystem::path exercise, folder; };
struct MarkClass {}; // the chosen one
struct StopMarking {};
struct OpenClassPlan { int entry; bool even_unsaved = false; };
struct SaveClassTable { std::filesystem::path file; };  // for a spreadsheet
struct SaveClassReport { std::filesystem::path file; }; // a printed sheet
struct Answer { std::string question, given; bool right; double thinking_s; }; // question: "lesson/id"
struct ProposeQuick {}; // settings for the Check bench's joint, with the wire and gas that are chosen
struct QuickCheck { arc::SettingCard card; arc::Section section; };            // the Check bench's own card and joint

// The view
struct ShowBench { Bench bench; };
struct Play {};
struct Pause {};
struct SetTime { double time_s; };
struct StepMove { int by; };
struct SetSpeed { double factor; };
struct ShowField { Field field; };
struct SetExaggeration { double factor; }; // 0: as suggested
struct LookFrom { scene::StandardView view; };
struct Fit {};
struct SetCamera { scene::Camera camera; };
struct TurnView { double dx_px, dy_px; }; // as a drag with the mouse by so much
struct ShiftView { double right, up; };    // the part in it, in heights of the view
struct ComeNearer { double factor; };     // below 1: away; about the chosen pass
struct ChoosePass { int pass; };
struct ChooseOpenPass { int by; }; // +1 or -1: of those that can be welded next
struct ChooseMove { int move; };
struct ChooseGauge { int gauge; };
struct ChooseCard { int card; };
struct ChooseJoint { int joint; }; // on which the chosen card is judged
struct FollowRemark { int remark; }; // of the mark: to what it speaks of
struct Probe { part::Attachment place; };
struct ProbePass { int pass; }; // its middle; the chart shows it
struct ShowChart { Chart chart; };
struct ClearProbe {};
enum class Switch { isotherms, numbers, deformed, compare, shortcuts };
struct Toggle { Switch what; };

// Preferences
struct SetLanguage { Language language; };
struct SetUnits { units::System system; };
struct SetShade { Shade shade; };
struct SetScale { double scale; };
struct SetWindowSize { WindowSize size; }; // that the window opens with next time

} // namespace holdtrue::app::act
// clang-format on

namespace holdtrue::app {

using Action =
    OneOf<act::Open, act::Save, act::SaveAs, act::HandIn, act::NewPlan, act::LookInto, act::Recover,
          act::ForgetRecovery, act::DismissProblems, act::Quit, act::GoOn, act::StayOpen, act::Undo, act::Redo,
          act::WeldNext, act::ReverseMove, act::RemoveMove, act::ShiftMove, act::AddWait, act::WaitBeforeRuns, act::SetWait, act::AddTurn,
          act::AddClamp, act::LayOut, act::ClearMoves, act::SetMoveCard, act::ChangeCard, act::AddCard, act::Predict,
          act::TakeHint, act::StartWeld, act::CancelWeld, act::CompareOrders, act::StopComparing, act::TryAgain,
          act::AddTrainee, act::ChooseTrainee, act::ShowRecordPage, act::OpenAttempt, act::ChooseClass, act::MarkClass,
          act::StopMarking, act::OpenClassPlan, act::SaveClassTable, act::SaveClassReport, act::Answer,
          act::ProposeQuick, act::QuickCheck, act::ShowBench, act::Play, act::Pause, act::SetTime, act::StepMove,
          act::SetSpeed, act::ShowField, act::SetExaggeration, act::LookFrom, act::Fit, act::SetCamera, act::TurnView,
          act::ShiftView, act::ComeNearer, act::ChoosePass, act::ChooseOpenPass, act::ChooseMove, act::ChooseGauge, act::ChooseCard, act::ChooseJoint, act::FollowRemark, act::Probe,
          act::ProbePass, act::ShowChart, act::ClearProbe, act::Toggle, act::SetLanguage, act::SetUnits, act::SetShade, act::SetScale,
          act::SetWindowSize>;
using Actions = std::vector<Action>;

} // namespace holdtrue::app
