// SPDX-License-Identifier: MIT
/// Straight lines between readings; all that is asked of a log follows from them.
#include "cure/cooler_log.hpp"

#include "base/calendar.hpp"
#include "base/quantity.hpp"
#include "base/text.hpp"
#include "materials/diffusion.hpp"

#include <boost/math/quadrature/gauss.hpp>

#include <algorithm>
#include <cmath>
#include <functional>
#include <memory>
#include <numeric>

namespace tidemark::cure {
namespace {

/// The stretch between readings that `t` [s] falls in: it ends at reading i. Not for times outside.
std::size_t stretch_of(const std::vector<double>& time, double t) {
    const auto after = std::upper_bound(time.begin(), time.end(), t);
    return std::clamp<std::size_t>(after - time.begin(), 1, time.size() - 1);
}

/// The integral of a factor of the temperature from the first reading to any time.
class Integral {
public:
    Integral(std::shared_ptr<const CoolerLog> log, std::function<double(double)> factor)
        : log_(std::move(log)), factor_(std::move(factor)), sums_{0} {
        for (std::size_t i = 1; i < log_->time.size(); ++i) {
            sums_.push_back(sums_.back() + over(i, log_->time[i]));
        }
    }

    double operator()(double t) const {
        if (t <= log_->time.front()) {
            return (t - log_->time.front()) * factor_(log_->temperature.front());
        }
        if (t >= log_->last()) {
            return sums_.back() + (t - log_->last()) * factor_(log_->temperature.back());
        }
        const std::size_t i = stretch_of(log_->time, t);
        return sums_[i - 1] + over(i, t);
    }

private:
    /// From the beginning of the stretch that ends at reading i.
    double over(std::size_t i, double t) const {
        const double from = log_->time[i - 1], start = log_->temperature[i - 1];
        const double slope = (log_->temperature[i] - start) / (log_->time[i] - from);
        return boost::math::quadrature::gauss<double, 3>::integrate(
            [&](double s) { return factor_(start + slope * s); }, 0.0, t - from);
    }

    std::shared_ptr<const CoolerLog> log_;
    std::function<double(double)> factor_;
    std::vector<double> sums_;
};

} // namespace

double CoolerLog::at(double t) const {
    if (t <= time.front()) {
        return temperature.front();
    }
    if (t >= last()) {
        return temperature.back();
    }
    const std::size_t i = stretch_of(time, t);
    return std::lerp(temperature[i - 1], temperature[i],
                     (t - time[i - 1]) / (time[i] - time[i - 1]));
}

double CoolerLog::mean() const {
    double sum = 0;
    for (std::size_t i = 1; i < time.size(); ++i) {
        sum += (time[i] - time[i - 1]) * std::midpoint(temperature[i - 1], temperature[i]);
    }
    return sum / (last() - time.front());
}

CoolerLog CoolerLog::since(std::chrono::local_seconds date) const {
    CoolerLog log = *this;
    if (start) {
        for (double& t : log.time)
            t += static_cast<double>((*start - date).count());
    }
    log.start = date;
    return log;
}

CoolerLog CoolerLog::between(double from, double to) const {
    CoolerLog part{{from}, {at(from)}, remarks, start};
    for (std::size_t i = 0; i < time.size(); ++i) {
        if (time[i] > from && time[i] < to) {
            part.time.push_back(time[i]);
            part.temperature.push_back(temperature[i]);
        }
    }
    part.time.push_back(to);
    part.temperature.push_back(at(to));
    return part;
}

double CoolerLog::longest_above(double limit) const {
    double longest = 0, running = 0; // [s]
    for (std::size_t i = 1; i < time.size(); ++i) {
        const double before = temperature[i - 1] - limit, after = temperature[i] - limit;
        double share = before > 0 || after > 0 ? 1 : 0;
        if (share > 0 && std::min(before, after) < 0) {
            share = std::max(before, after) / std::abs(after - before);
        }
        running = (before > 0 ? running : 0) + share * (time[i] - time[i - 1]);
        longest = std::max(longest, running);
    }
    return longest;
}

std::vector<std::string> CoolerLog::beyond(double from, double until) const {
    std::vector<std::string> remarks_;
    if (from < time.front() && start) { // one without dates begins with what it is of
        remarks_.push_back("the cooler's log begins on " +
                           base::show_moment(base::minute_after(*start, time.front())) +
                           "; its first temperature, " +
                           base::show_temperature(temperature.front()) +
                           ", is taken to hold before then");
    }
    if (until > last()) {
        const std::string when =
            start ? "on " + base::show_moment(base::minute_after(*start, last()))
                  : base::significant(last() / 3600, 3) + " h after its first reading";
        remarks_.push_back("the cooler's log ends " + when + "; its last temperature, " +
                           base::show_temperature(temperature.back()) +
                           ", is taken to hold from then on");
    }
    return remarks_;
}

transport::Clock clock(const CoolerLog& log, double reference_temperature, double diffusion_energy,
                       double loss_energy) {
    const auto shared = std::make_shared<const CoolerLog>(log);
    const auto with = [&](double energy) {
        const auto integral = std::make_shared<const Integral>(shared, [=](double temperature) {
            return materials::arrhenius(1, energy, reference_temperature, temperature);
        });
        return [integral](double t) { return (*integral)(t); };
    };
    return {with(diffusion_energy), with(loss_energy)};
}

} // namespace tidemark::cure
