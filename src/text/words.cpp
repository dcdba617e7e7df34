#include "text/words.h"

#include <algorithm>

namespace holdtrue::text {
namespace {

std::size_t edit_distance(std::string_view a, std::string_view b) {
    std::vector<std::size_t> row(b.size() + 1);
    for (std::size_t j = 0; j <= b.size(); ++j)
        row[j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        std::size_t diagonal = row[0];
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t above = row[j];
            row[j] = std::min({above + 1, row[j - 1] + 1, diagonal + (a[i - 1] == b[j - 1] ? 0 : 1)});
            diagonal = above;
        }
    }
    return row[b.size()];
}

} // namespace

std::string nearest(std::string_view word, const std::vector<std::string>& known) {
    std::string best;
    std::size_t best_distance = std::min(word.size(), std::max<std::size_t>(2, word.size() / 3) + 1);
    for (const std::string& candidate : known) {
        const std::size_t distance = edit_distance(word, candidate);
        if (distance < best_distance) {
            best_distance = distance;
            best = candidate;
        }
    }
    return best;
}

Sentence did_you_mean(std::string_view word, const std::vector<std::string>& known, Sentence otherwise) {
    std::string near = nearest(word, known);
    return near.empty() ? std::move(otherwise) : Sentence(worded("did you mean \"{0}\"?"), {std::move(near)});
}

std::string listed(const std::vector<std::string>& words) { return one_of(words).english(); }

} // namespace holdtrue::text
