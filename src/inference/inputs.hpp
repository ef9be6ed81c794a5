// SPDX-License-Identifier: MIT
/// Uncertain numbers: how each is spread, what a cook calls it, how to know it better. Serves any
/// forward model; which numbers a case has stands in case_inputs.hpp. Inputs are independent unless
/// made joint().
#pragma once

#include <Eigen/Core>

#include <string>
#include <vector>

namespace tidemark::inference {

/// How one number is spread.
struct Distribution {
    enum class Kind { fixed, lognormal, normal, uniform } kind = Kind::fixed;
    double a = 1; ///< value; median; mean; lower end
    double b = 1; ///< geometric standard deviation [1]; standard deviation; upper end

    /// The value below which a share `u` in (0, 1) lies, in the unit of `a`.
    double at(double u) const;
    bool certain() const;
};

/// A record's spread read as that of a factor on its value [1]: "gsd f" is lognormal about 1, "sd
/// s" normal with s over the value, "range p .. q" uniform over the range (bounded, and no end less
/// likely than the middle). "none stated" is fixed. Throws base::RunError for another text.
Distribution factor_spread(const std::string& spread, double value);
/// The same as a shift of the value, in the record's own unit; for a "sd" only.
Distribution shift_spread(const std::string& spread);

/// One uncertain number.
struct Input {
    std::string name;  ///< "diffusivity"
    std::string group; ///< inputs of a group have one share of the spread: "speed of salt"
    Distribution spread;
};

/// A list of inputs, and the values they take.
class Inputs {
public:
    /// Adds an input; one that is certain is left out.
    void add(const Input& input);

    const std::vector<Input>& list() const { return list_; }
    int column(const std::string& name) const; ///< -1: not among them
    std::vector<std::string> groups() const;   ///< in order of first appearance
    std::vector<int> group_of_columns() const; ///< index into groups()

    /// Replaces inputs by a joint lognormal distribution of factors [1] with the given mean and
    /// covariance of their logarithms, as learnt from slices. They become one group, that of the
    /// first; names not in the list are added. The covariance must be positive definite; throws
    /// base::RunError otherwise.
    void joint(const std::vector<std::string>& names, const Eigen::VectorXd& log_mean,
               const Eigen::MatrixXd& log_covariance);

    /// Adds to inputs, each lognormal by itself or not there yet, a joint lognormal factor [1] with
    /// this covariance of the logarithms: what all meat has in common. Their groups stay.
    void share(const std::vector<Input>& with, const Eigen::MatrixXd& log_covariance);

    /// Covariance of the logarithms of such inputs [1]; one that is not among them, or not
    /// lognormal, has none.
    Eigen::MatrixXd log_covariance(const std::vector<std::string>& names) const;

    /// Values, a column for each input, of uniforms in (0, 1) [1].
    Eigen::MatrixXd values(Eigen::MatrixXd uniforms) const;

private:
    void join(const Eigen::VectorXd& log_mean, const Eigen::MatrixXd& log_covariance);

    std::vector<Input> list_;
    std::vector<int> joint_; ///< columns
    Eigen::VectorXd mean_;
    Eigen::MatrixXd root_; ///< lower triangular
};

} // namespace tidemark::inference
