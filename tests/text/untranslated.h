// What of a sentence a translation does not know.
#pragma once

#include "text/translate.h"

#include <string>
#include <vector>

namespace holdtrue::text::test {

inline void find_untranslated(const Translation& translation, const Sentence& sentence,
                              std::vector<std::string>& found) {
    if (sentence.translates && !translation.table().contains(sentence.pattern))
        found.push_back(sentence.pattern);
    for (const Sentence& part : sentence.parts)
        find_untranslated(translation, part, found);
}

inline std::vector<std::string> untranslated(const Translation& translation, const Sentence& sentence) {
    std::vector<std::string> found;
    find_untranslated(translation, sentence, found);
    return found;
}

} // namespace holdtrue::text::test
