#include "app/benches/bead_section.h"
#include "app/benches/benches.h"
#include "app/benches/card_fields.h"
#include "app/benches/common.h"
#include "app/benches/hints.h"

#include <algorithm>

namespace holdtrue::app {

namespace {

using Index = std::size_t;

void draw_cards(Ui& ui, const Session& session, Actions& out) {
    std::vector<const char*> names;
    for (const arc::SettingCard& card : session.plan().cards)
        names.push_back(card.name.c_str());
    if (const auto chosen = choice(ui, "cards", names, session.view().card))
        out.push_back(act::ChooseCard{*chosen});
    std::vector<const char*> addable;
    for (const char* group : {"tacks", "plugs"}) {
        const bool has = std::ranges::any_of(session.part().passes, [&](const part::Pass& pass) {
            return pass.kind == (group[0] == 't' ? part::PassKind::tack : part::PassKind::plug);
        });
        if (has && !session.why_not(act::AddCard{group}))
            addable.push_back(group);
    }
    for (const char* group : addable) {
        ImGui::PushID(group);
        if (button(ui, group[0] == 't' ? worded("+ card for tacks") : worded("+ card for plugs"), Weight::quiet))
            out.push_back(act::AddCard{group});
        ImGui::PopID();
    }
}

} // namespace

void draw_setup(Ui& ui, const Session& session, SetupState& state, Actions& out) {
    if (!session.has_exercise())
        return nothing_open(ui, session, out);
    (void)state;
    const float height = ImGui::GetContentRegionAvail().y;
    const float width = ImGui::GetContentRegionAvail().x;
    begin_sheet(ui, "card", {ui.px(372), height});
    heading(ui, worded("Setting cards"));
    draw_cards(ui, session, out);
    ImGui::Separator();
    if (!session.plan().cards.empty()) {
        arc::SettingCard card = session.plan().cards[Index(session.view().card)];
        if (const auto field = edit_card(ui, session.shop(), card))
            out.push_back(act::ChangeCard{session.view().card, card, *field});
    }
    end_sheet();
    ImGui::SameLine(0, ui.px(10));
    const float middle = (width - ui.px(372) - ui.px(20)) * 0.5f;
    begin_sheet(ui, "bead", {middle, height});
    const CardCheck* check = session.card_check();
    heading(ui, worded("The bead on the joint"));
    std::vector<const char*> names;
    int chosen = -1;
    for (const int joint : session.card_joints()) {
        if (check && joint == check->joint)
            chosen = static_cast<int>(names.size());
        names.push_back(session.part().joints[Index(joint)].name.c_str());
    }
    if (const auto joint = choice(ui, "joint", names, chosen))
        out.push_back(act::ChooseJoint{session.card_joints()[Index(*joint)]});
    if (check) {
        draw_bead_section(ui, *check, {0, std::min(ui.px(260), height * 0.36f)});
        draw_figures(ui, *check);
    } else
        quiet_text(ui, ui.tr("This card cannot be judged: choose a wire and a gas that the shop has."));
    end_sheet();
    ImGui::SameLine(0, ui.px(10));
    begin_sheet(ui, "rules", {0, height}, false);
    begin_above_footer("findings");
    if (check)
        draw_findings(ui, *check);
    end_sheet();
    if (button(ui, worded("On to the order"), Weight::main, {}, "3"))
        out.push_back(act::ShowBench{Bench::order});
    ImGui::SameLine();
    draw_hints(ui, session, out);
    end_sheet();
}

} // namespace holdtrue::app
