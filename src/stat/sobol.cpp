// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "stat/sobol.hpp"

#include <algorithm>
#include <cmath>

#include "base/result.hpp"

namespace bw::stat {

void SobolSums::add(double a, double b, std::span<const double> ab) {
    base::expect(ab.size() == first_.size(), "one result for each group");
    ++draws_;
    sum_ += a + b;
    sum_of_squares_ += a * a + b * b;
    for (std::size_t g = 0; g < ab.size(); ++g) {
        const double first = b * (ab[g] - a);
        first_[g].sum += first;
        first_[g].sum_of_squares += first * first;
        const double total = (a - ab[g]) * (a - ab[g]) / 2;
        total_[g].sum += total;
        total_[g].sum_of_squares += total * total;
    }
}

void SobolSums::merge(const SobolSums& other) {
    draws_ += other.draws_;
    sum_ += other.sum_;
    sum_of_squares_ += other.sum_of_squares_;
    for (std::size_t g = 0; g < first_.size(); ++g) {
        first_[g].sum += other.first_[g].sum;
        first_[g].sum_of_squares += other.first_[g].sum_of_squares;
        total_[g].sum += other.total_[g].sum;
        total_[g].sum_of_squares += other.total_[g].sum_of_squares;
    }
}

double SobolSums::mean() const {
    return draws_ == 0 ? 0 : sum_ / (2 * static_cast<double>(draws_));
}

double SobolSums::variance() const {
    const double n = 2 * static_cast<double>(draws_);
    return n < 2 ? 0 : std::max(0.0, (sum_of_squares_ - sum_ * sum_ / n) / (n - 1));
}

std::vector<SobolIndex> SobolSums::indices() const {
    std::vector<SobolIndex> out(first_.size());
    const double all = variance();
    const auto n = static_cast<double>(draws_);
    if (!(all > 0)) {
        return out;
    }
    const auto error = [&](const Term& t) {
        const double mean = t.sum / n;
        return std::sqrt(std::max(0.0, t.sum_of_squares / n - mean * mean) / n) / all;
    };
    for (std::size_t g = 0; g < out.size(); ++g) {
        out[g] = {first_[g].sum / n / all, error(first_[g]), total_[g].sum / n / all,
                  error(total_[g])};
    }
    return out;
}

}  // namespace bw::stat
