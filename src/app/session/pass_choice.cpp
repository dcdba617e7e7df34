#include "app/session/pass_choice.h"

namespace holdtrue::app {

int next_pass(const Session& session, int by) {
    const int count = static_cast<int>(session.part().passes.size());
    int from = session.view().pass;
    for (int m = session.view().move; from < 0 && m >= 0; --m)
        if (const auto* weld = std::get_if<weld::WeldPass>(&session.plan().moves[static_cast<std::size_t>(m)].what))
            from = weld->pass;
    if (from < 0 && by < 0)
        from = 0;
    return count == 0 ? -1 : (from + by + count) % count;
}

int next_open_pass(const Session& session, int by) {
    const int count = static_cast<int>(session.part().passes.size()), step = by > 0 ? 1 : -1;
    int pass = next_pass(session, step);
    for (int tried = 0; tried < count; ++tried, pass = (pass + step + count) % count)
        if (move_of_pass(session.plan(), pass) < 0 && !session.why_not(act::WeldNext{pass}))
            return pass;
    return -1;
}

part::Attachment middle_of_pass(const part::Part& part, const part::Mesh& mesh, int pass) {
    const part::Pass& chosen = part.passes[static_cast<std::size_t>(pass)];
    const part::Joint& joint = part.joints[static_cast<std::size_t>(chosen.joint)];
    const double along = chosen.kind == part::PassKind::plug ? chosen.from_m : 0.5 * (chosen.from_m + chosen.to_m);
    return part::attach(mesh, joint.panel_a, part::path_point(joint, along));
}

} // namespace holdtrue::app
