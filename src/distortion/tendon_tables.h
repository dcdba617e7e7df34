// Tables of tendon force that were made once and serve every job with the same case: a table takes some 0.1 s, and the
// joints of a part, the plans of a class and the orders of a search ask for the same few. Any thread.
#pragma once

#include "distortion/tendon_table.h"

#include <memory>
#include <mutex>
#include <utility>
#include <vector>

namespace holdtrue::distortion {

class TendonTables {
public:
    std::shared_ptr<const TendonTable> of(const TendonCase& which) {
        if (auto known = find(which))
            return known;
        auto made = std::make_shared<const TendonTable>(which);
        const std::scoped_lock lock(mutex_);
        for (const auto& [known, table] : tables_) // by another thread meanwhile
            if (known == which)
                return table;
        tables_.emplace_back(which, made);
        return made;
    }

private:
    std::shared_ptr<const TendonTable> find(const TendonCase& which) {
        const std::scoped_lock lock(mutex_);
        for (const auto& [known, table] : tables_)
            if (known == which)
                return table;
        return nullptr;
    }

    std::mutex mutex_;
    std::vector<std::pair<TendonCase, std::shared_ptr<const TendonTable>>> tables_;
};

} // namespace holdtrue::distortion
