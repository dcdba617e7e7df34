#include "app/script.h"

#include "app/session/action_text.h"
#include "app/ui/keyboard_frame.h"
#include "text/atomic_file.h"

#include <algorithm>
#include <cstdio>
#include <ctime>
#include <fstream>
#include <sstream>

namespace holdtrue::app {

std::string places_text(const std::vector<Placed>& placed) {
    std::ostringstream out;
    for (const Placed& place : placed)
        out << place.label << '\t' << place.low.x << '\t' << place.low.y << '\t' << place.high.x << '\t' << place.high.y
            << '\t' << (has_frame(place) ? "framed " : "")
            << (!place.enabled   ? "disabled"
                : place.in_sight ? "enabled"
                                 : "scrolled away")
            << '\n';
    return out.str();
}

namespace {

void print_mark(const Session& session) {
    if (const Marked* marked = session.marked())
        std::printf("mark %.1f %s\n", marked->mark.total, marked->mark.passed ? "passed" : "not passed");
    else
        std::printf("no mark\n");
}

} // namespace

Script::Script(const std::filesystem::path& file) : file_(file.string()) {
    std::ifstream in(file);
    if (!in)
        throw text::InputError(file_, 0, text::in_english("cannot be read"),
                               text::in_english("check the name and that you may read it"));
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
        throw text::InputError(file_, line.number,
                               text::in_english("there is no control '" + label + "' on the screen"),
                               text::in_english("show the bench it is on first"));
    if (!found->enabled)
        throw text::InputError(file_, line.number, text::in_english("the control '" + label + "' is disabled"),
                               text::in_english("do first what it waits for"));
    if (!found->in_sight)
        throw text::InputError(file_, line.number,
                               text::in_english("the control '" + label + "' is scrolled out of sight"),
                               text::in_english("make the window larger"));
    mouse_ = {true, click_phase_ == 1, (found->low.x + found->high.x) / 2, (found->low.y + found->high.y) / 2};
    click_phase_ = (click_phase_ + 1) % 3;
    return click_phase_ == 0;
}

long long Script::unix_ms() {
    using namespace std::chrono;
    return duration_cast<milliseconds>(system_clock::now().time_since_epoch()).count();
}

bool Script::measure_rate(double seconds) {
    const Clock::time_point now = Clock::now();
    const auto since = [&](Clock::time_point then) { return std::chrono::duration<double>(now - then).count(); };
    const double processor_s = double(std::clock()) / CLOCKS_PER_SEC;
    if (!rate_) {
        rate_ = Rate{now, now, processor_s};
        return false;
    }
    ++rate_->frames;
    rate_->slowest_s = std::max(rate_->slowest_s, since(rate_->last));
    rate_->last = now;
    if (since(rate_->start) < seconds)
        return false;
    std::printf("%.1f frames per second, slowest %.1f ms, processor time %.1f ms a frame\n",
                rate_->frames / since(rate_->start), 1000 * rate_->slowest_s,
                1000 * (processor_s - rate_->processor_s) / rate_->frames);
    std::fflush(stdout);
    rate_.reset();
    return true;
}

void Script::print(const Session& session, const Line& line) const {
    const std::string what = line.words.size() > 1 ? line.words[1] : "";
    if (what == "mark")
        print_mark(session);
    else if (what == "first_frame")
        std::printf("first frame %lld ms\n", first_frame_ms_);
    else if (what == "preview")
        std::printf("preview %.0f ms\n", 1000 * session.preview_took_s());
    else
        throw text::InputError(file_, line.number, text::in_english("'" + what + "' cannot be printed"),
                               text::in_english("write mark, preview or first_frame"));
    std::fflush(stdout);
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
            waits_ = session.worker().busy() || session.among_orders_busy() || session.class_busy();
            if (waits_)
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
        } else if (verb == "draw_all")
            draw_all_ = true;
        else if (verb == "places")
            text::write_atomically(argument, places_text(placed));
        else if (verb == "keep_places")
            kept_places_ = argument;
        else if (verb == "print")
            print(session, line);
        else if (verb == "frame_rate") {
            if (!measure_rate(std::max(std::atof(argument.c_str()), 0.1)))
                return true;
        } else {
            session.apply(parse_action(line.words, session, file_, line.number));
            if (!session.problems().empty()) {
                for (const text::Problem& problem : session.problems())
                    std::fprintf(stderr, "%s\n", text::to_line(problem).c_str());
                throw text::InputError(file_, line.number, text::in_english("the action found mistakes in a file"),
                                       text::in_english("see the lines above"));
            }
            if (session.news() && session.why_not(parse_action(line.words, session, file_, line.number)))
                std::fprintf(stderr, "%s:%d: refused: %s\n", file_.c_str(), line.number,
                             session.news()->english().c_str());
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
