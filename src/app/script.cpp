#include "app/script.h"

#include "app/session/action_text.h"
#include "text/atomic_file.h"

#include <algorithm>
#include <cstdio>
#include <fstream>
#include <sstream>

namespace holdtrue::app {

std::string places_text(const std::vector<Placed>& placed) {
    std::ostringstream out;
    for (const Placed& place : placed)
        out << place.label << '\t' << place.low.x << '\t' << place.low.y << '\t' << place.high.x << '\t'
            << place.high.y << '\t' << (!place.enabled ? "disabled" : place.in_sight ? "enabled" : "scrolled away") << '\n';
    return out.str();
}

namespace {

void print_mark(const Session& session) {
    if (const Marked* marked = session.marked())
        std::printf("mark %.1f %s\n", marked->mark.total, marked->mark.passed ? "passed" : "not passed");
    else
        std::printf("no mark\n");
    std::fflush(stdout);
}

} // namespace

Script::Script(const std::filesystem::path& file) : file_(file.string()) {
    std::ifstream in(file);
    if (!in)
        throw text::InputError(file_, 0, "cannot be read", "check the name and that you may read it");
    std::string line;
    for (int number = 1; std::getline(in, line); ++number)
        if (std::vector<std::string> words = split_words(line); !words.empty())
            lines_.push_back({number, std::move(words)});
}

// The pointer goes there, the button goes down, the button goes up: one frame each, as a hand does it.
bool Script::click(const std::vector<Placed>& placed, const Line& line) {
    const std::string label = line.words.size() > 1 ? line.words[1] : "";
    const auto found = std::ranges::find(placed, label, &Placed::label);
    if (found == placed.end())
        throw text::InputError(file_, line.number, "there is no control '" + label + "' on the screen",
                               "show the bench it is on first");
    if (!found->enabled)
        throw text::InputError(file_, line.number, "the control '" + label + "' is disabled",
                               "do first what it waits for");
    if (!found->in_sight)
        throw text::InputError(file_, line.number, "the control '" + label + "' is scrolled out of sight",
                               "make the window larger");
    mouse_ = {true, click_phase_ == 1, (found->low.x + found->high.x) / 2, (found->low.y + found->high.y) / 2};
    click_phase_ = (click_phase_ + 1) % 3;
    return click_phase_ == 0;
}

bool Script::step(Session& session, const std::vector<Placed>& placed,
                  const std::function<void(const std::filesystem::path&)>& screenshot) {
    while (next_ < lines_.size()) {
        if (frames_left_ > 0) {
            --frames_left_;
            return true;
        }
        const Line& line = lines_[next_];
        const std::string& verb = line.words[0];
        const std::string argument = line.words.size() > 1 ? line.words[1] : "";
        if (verb == "finish") {
            if (session.worker().busy())
                return true;
            frames_left_ = 3;
        } else if (verb == "frames")
            frames_left_ = std::max(std::atoi(argument.c_str()), 1);
        else if (verb == "click") {
            if (!click(placed, line))
                return true;
            frames_left_ = 3;
        } else if (verb == "screenshot") {
            // Of the frame that is drawn next: what earlier lines changed is in it, what later ones change is not.
            screenshot(argument);
            ++next_;
            return true;
        } else if (verb == "places")
            text::write_atomically(argument, places_text(placed));
        else if (verb == "keep_places")
            kept_places_ = argument;
        else if (verb == "print")
            print_mark(session);
        else {
            session.apply(parse_action(line.words, session, file_, line.number));
            if (!session.problems().empty()) {
                for (const text::Problem& problem : session.problems())
                    std::fprintf(stderr, "%s\n", text::to_line(problem).c_str());
                throw text::InputError(file_, line.number, "the action found mistakes in a file", "see the lines above");
            }
            if (session.news() && session.why_not(parse_action(line.words, session, file_, line.number)))
                std::fprintf(stderr, "%s:%d: refused: %s\n", file_.c_str(), line.number, session.news()->pattern);
            frames_left_ = 3; // the widgets take a few frames to settle
        }
        ++next_;
    }
    if (frames_left_ > 0) {
        --frames_left_;
        return true;
    }
    return false;
}

} // namespace holdtrue::app
