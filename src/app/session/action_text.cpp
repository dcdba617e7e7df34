#include "app/session/action_text.h"

#include "app/session/action_arguments.h"

#include <functional>
#include <map>

namespace holdtrue::app {

namespace {

// A card with one field changed: card NAME FIELD VALUE, in SI.
Action change_card(const Arguments& a) {
    const int index = a.card(1);
    arc::SettingCard card = a.session.plan().cards[static_cast<std::size_t>(index)];
    const std::string& field = a.word(2);
    const std::map<std::string, double arc::SettingCard::*> numbers{
        {"volts_v", &arc::SettingCard::volts_v},
        {"wire_feed_m_per_s", &arc::SettingCard::wire_feed_m_per_s},
        {"travel_m_per_s", &arc::SettingCard::travel_m_per_s},
        {"tip_distance_m", &arc::SettingCard::tip_distance_m},
        {"gas_flow_m3_per_s", &arc::SettingCard::gas_flow_m3_per_s},
        {"aim", &arc::SettingCard::aim},
        {"preheat_k", &arc::SettingCard::preheat_k},
        {"plug_s", &arc::SettingCard::plug_s}};
    if (const auto at = numbers.find(field); at != numbers.end())
        card.*(at->second) = a.number(3);
    else if (field == "wire")
        card.wire = a.word(3);
    else if (field == "gas")
        card.gas = a.word(3);
    else
        a.fail("a card has no field '" + field + "'", "use a field name of setting_card.h");
    return act::ChangeCard{index, card, field};
}

Action lay_out(const Arguments& a) {
    act::LayOut action;
    action.kind = a.one_of<part::PassKind>(
        1, {{"tack", part::PassKind::tack}, {"run", part::PassKind::run}, {"plug", part::PassKind::plug}});
    action.pattern = a.one_of<Pattern>(2, {{"along", Pattern::along},
                                           {"backstep", Pattern::backstep},
                                           {"skip", Pattern::skip},
                                           {"middle_out", Pattern::middle_out},
                                           {"alternate", Pattern::alternate}});
    for (std::size_t k = 3; k < a.words.size(); ++k)
        action.joints.push_back(a.joint(k));
    return action;
}

using Maker = std::function<Action(const Arguments&)>;
const std::map<std::string, Maker>& makers() {
    static const std::map<std::string, Maker> table{
        {"open",
         [](const Arguments& a) {
             return act::Open{a.word(1), true};
         }},
        {"save", [](const Arguments&) { return act::Save{}; }},
        {"save_as", [](const Arguments& a) { return act::SaveAs{a.word(1)}; }},
        {"hand_in",
         [](const Arguments& a) {
             return act::HandIn{a.word(1), true};
         }},
        {"ask_hand_in", [](const Arguments& a) { return act::HandIn{a.word(1)}; }},
        {"new_plan", [](const Arguments&) { return act::NewPlan{true}; }},
        {"recover", [](const Arguments&) { return act::Recover{}; }},
        {"forget_recovery", [](const Arguments&) { return act::ForgetRecovery{}; }},
        {"dismiss", [](const Arguments&) { return act::DismissProblems{}; }},
        {"quit", [](const Arguments&) { return act::Quit{true}; }},
        {"go_on", [](const Arguments&) { return act::GoOn{}; }},
        {"stay", [](const Arguments&) { return act::StayOpen{}; }},
        {"ask_quit", [](const Arguments&) { return act::Quit{false}; }},
        {"undo", [](const Arguments&) { return act::Undo{}; }},
        {"redo", [](const Arguments&) { return act::Redo{}; }},
        {"weld", [](const Arguments& a) { return act::WeldNext{a.pass(1)}; }},
        {"reverse", [](const Arguments& a) { return act::ReverseMove{a.move(1)}; }},
        {"remove", [](const Arguments& a) { return act::RemoveMove{a.move(1)}; }},
        {"shift",
         [](const Arguments& a) {
             return act::ShiftMove{a.move(1), a.move(2)};
         }},
        {"wait",
         [](const Arguments& a) {
             return act::AddWait{a.number(1), 0, -1};
         }},
        {"wait_until",
         [](const Arguments& a) {
             return act::AddWait{0, a.number(1), -1};
         }},
        {"wait_before_runs",
         [](const Arguments& a) {
             return act::WaitBeforeRuns{0, a.number(1)};
         }},
        {"turn", [](const Arguments& a) { return act::AddTurn{a.pose(1)}; }},
        {"fix",
         [](const Arguments& a) {
             return act::AddClamp{a.clamp(1), true};
         }},
        {"free",
         [](const Arguments& a) {
             return act::AddClamp{a.clamp(1), false};
         }},
        {"lay_out", lay_out},
        {"clear", [](const Arguments&) { return act::ClearMoves{}; }},
        {"move_card",
         [](const Arguments& a) {
             return act::SetMoveCard{a.move(1), a.card(2)};
         }},
        {"card", change_card},
        {"add_card", [](const Arguments& a) { return act::AddCard{a.word(1)}; }},
        {"predict",
         [](const Arguments& a) {
             return act::Predict{a.gauge(1), a.one_of<weld::Sense>(2, {{"shrinks", weld::Sense::shrinks},
                                                                       {"stays", weld::Sense::stays},
                                                                       {"grows", weld::Sense::grows}})};
         }},
        {"hint", [](const Arguments&) { return act::TakeHint{}; }},
        {"start", [](const Arguments&) { return act::StartWeld{}; }},
        {"cancel", [](const Arguments&) { return act::CancelWeld{}; }},
        {"compare_orders", [](const Arguments&) { return act::CompareOrders{}; }},
        {"stop_comparing", [](const Arguments&) { return act::StopComparing{}; }},
        {"try_again", [](const Arguments&) { return act::TryAgain{}; }},
        {"propose", [](const Arguments&) { return act::ProposeQuick{}; }},
        {"add_trainee", [](const Arguments& a) { return act::AddTrainee{a.word(1)}; }},
        {"trainee",
         [](const Arguments& a) {
             const auto& known = a.session.logbook().trainees();
             const auto at = std::ranges::find(known, a.word(1), &record::Trainee::name);
             if (at == known.end())
                 a.fail("there is no trainee '" + a.word(1) + "'", "write add_trainee before, or bench record");
             return act::ChooseTrainee{at->id};
         }},
        {"record_page",
         [](const Arguments& a) {
             return act::ShowRecordPage{
                 a.one_of<RecordPage>(1, {{"own", RecordPage::own}, {"class", RecordPage::school_class}})};
         }},
        {"choose_class",
         [](const Arguments& a) {
             return act::ChooseClass{a.word(1), a.word(2)};
         }},
        {"mark_class", [](const Arguments&) { return act::MarkClass{}; }},
        {"stop_marking", [](const Arguments&) { return act::StopMarking{}; }},
        {"open_attempt",
         [](const Arguments& a) {
             return act::OpenAttempt{a.move(1), true};
         }},
        {"open_class_plan",
         [](const Arguments& a) {
             return act::OpenClassPlan{a.move(1), true};
         }},
        {"save_class_table", [](const Arguments& a) { return act::SaveClassTable{a.word(1)}; }},
        {"save_class_report", [](const Arguments& a) { return act::SaveClassReport{a.word(1)}; }},
        {"bench",
         [](const Arguments& a) {
             return act::ShowBench{a.one_of<Bench>(1, {{"brief", Bench::brief},
                                                       {"setup", Bench::setup},
                                                       {"order", Bench::order},
                                                       {"weld", Bench::weld},
                                                       {"inspect", Bench::inspect},
                                                       {"lessons", Bench::lessons},
                                                       {"record", Bench::record},
                                                       {"check", Bench::check}})};
         }},
        {"play", [](const Arguments&) { return act::Play{}; }},
        {"pause", [](const Arguments&) { return act::Pause{}; }},
        {"time", [](const Arguments& a) { return act::SetTime{a.number(1)}; }},
        {"step", [](const Arguments& a) { return act::StepMove{a.integer(1)}; }},
        {"speed", [](const Arguments& a) { return act::SetSpeed{a.number(1)}; }},
        {"field",
         [](const Arguments& a) {
             return act::ShowField{a.one_of<Field>(1, {{"none", Field::none},
                                                       {"temperature", Field::temperature},
                                                       {"peak", Field::peak},
                                                       {"temper", Field::temper_colours}})};
         }},
        {"exaggerate", [](const Arguments& a) { return act::SetExaggeration{a.number(1)}; }},
        {"look",
         [](const Arguments& a) {
             using scene::StandardView;
             return act::LookFrom{a.one_of<StandardView>(1, {{"corner", StandardView::corner},
                                                             {"front", StandardView::front},
                                                             {"back", StandardView::back},
                                                             {"left", StandardView::left},
                                                             {"right", StandardView::right},
                                                             {"top", StandardView::top},
                                                             {"bottom", StandardView::bottom}})};
         }},
        {"fit", [](const Arguments&) { return act::Fit{}; }},
        {"turn_view", [](const Arguments& a) { return act::TurnView{a.number(1), a.number(2)}; }},
        {"shift_view", [](const Arguments& a) { return act::ShiftView{a.number(1), a.number(2)}; }},
        {"nearer", [](const Arguments& a) { return act::ComeNearer{a.number(1)}; }},
        {"choose_pass", [](const Arguments& a) { return act::ChoosePass{a.pass(1)}; }},
        {"choose_open_pass",
         [](const Arguments& a) { return act::ChooseOpenPass{a.one_of<int>(1, {{"next", 1}, {"before", -1}})}; }},
        {"choose_move", [](const Arguments& a) { return act::ChooseMove{a.move(1)}; }},
        {"choose_gauge", [](const Arguments& a) { return act::ChooseGauge{a.gauge(1)}; }},
        {"choose_joint", [](const Arguments& a) { return act::ChooseJoint{a.joint(1)}; }},
        {"follow_remark", [](const Arguments& a) { return act::FollowRemark{a.move(1)}; }},
        {"choose_card", [](const Arguments& a) { return act::ChooseCard{a.card(1)}; }},
        {"probe_pass", [](const Arguments& a) { return act::ProbePass{a.pass(1)}; }},
        {"chart",
         [](const Arguments& a) {
             return act::ShowChart{
                 a.one_of<Chart>(1, {{"heat", Chart::heat}, {"moves", Chart::moves}, {"orders", Chart::orders}})};
         }},
        {"toggle",
         [](const Arguments& a) {
             return act::Toggle{a.one_of<act::Switch>(1, {{"isotherms", act::Switch::isotherms},
                                                          {"numbers", act::Switch::numbers},
                                                          {"deformed", act::Switch::deformed},
                                                          {"compare", act::Switch::compare},
                                                          {"keys", act::Switch::shortcuts}})};
         }},
        {"language",
         [](const Arguments& a) {
             return act::SetLanguage{
                 a.one_of<Language>(1, {{"english", Language::english}, {"spanish", Language::spanish}})};
         }},
        {"units",
         [](const Arguments& a) {
             return act::SetUnits{a.one_of<units::System>(
                 1, {{"metric", units::System::metric}, {"imperial", units::System::imperial}})};
         }},
        {"shade",
         [](const Arguments& a) {
             return act::SetShade{a.one_of<Shade>(1, {{"light", Shade::light}, {"dark", Shade::dark}})};
         }},
        {"scale", [](const Arguments& a) { return act::SetScale{a.number(1)}; }},
        {"window_size",
         [](const Arguments& a) {
             return act::SetWindowSize{{a.integer(1), a.integer(2)}};
         }},
    };
    return table;
}

} // namespace

std::vector<std::string> split_words(const std::string& line) {
    std::vector<std::string> words;
    std::size_t k = 0;
    while (k < line.size()) {
        if (line[k] == ' ' || line[k] == '\t' || line[k] == '\r') {
            ++k;
            continue;
        }
        if (line[k] == '#')
            break;
        const bool quoted = line[k] == '\'' || line[k] == '"';
        const char end = line[k];
        std::string word;
        for (k += quoted;
             k < line.size() && (quoted ? line[k] != end : line[k] != ' ' && line[k] != '\t' && line[k] != '\r'); ++k)
            word += line[k];
        k += quoted;
        words.push_back(std::move(word));
    }
    return words;
}

std::vector<std::string> action_verbs() {
    std::vector<std::string> verbs;
    for (const auto& [verb, maker] : makers())
        verbs.push_back(verb);
    return verbs;
}

Action parse_action(const std::vector<std::string>& words, const Session& session, const std::string& file, int line) {
    const auto found = makers().find(words.at(0));
    if (found == makers().end()) {
        const std::string near = text::nearest(words[0], action_verbs());
        throw text::InputError(file, line, text::in_english("'" + words[0] + "' is no action"),
                               text::in_english(near.empty() ? "write one of " + text::listed(action_verbs())
                                                             : "did you mean " + near + "?"));
    }
    return found->second(Arguments{words, session, file, line});
}

} // namespace holdtrue::app
