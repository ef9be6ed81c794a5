// SPDX-License-Identifier: MIT
#include "verification/cvode.hpp"

#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_spgmr.h>

#include <Eigen/SparseCholesky>

#include <stdexcept>
#include <string>

namespace tidemark::verification {
namespace {

using Vector = Eigen::VectorXd;
using Map = Eigen::Map<Vector>;

Map map(N_Vector v) {
    return {N_VGetArrayPointer(v), N_VGetLength(v)};
}

/// y = (u, integral of u). Written from the equation in system.hpp, not from the code that solves
/// it.
struct Problem {
    const transport::System& system;
    const Forcing& forcing;
    const std::function<Factors(double)>& factors;
    Eigen::SparseMatrix<double> conductance,
        symmetric;         ///< the row, and row and column, of a held bath emptied
    Vector capacity, loss; ///< loss is C L [kg/s]
    Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> factor;
    double gamma = 0, loss_factor = 1;

    Problem(const transport::System& s, const Forcing& f, const std::function<Factors(double)>& g)
        : system(s), forcing(f), factors(g), conductance(s.conductance), symmetric(s.conductance),
          capacity(s.capacity), loss(s.capacity.cwiseProduct(s.loss)) {
        if (!s.held)
            return;
        const auto bath = s.bath();
        capacity[bath] = 1;
        loss[bath] = s.bath_loss;
        conductance.prune([bath](auto row, auto, double) { return row != bath; });
        symmetric.prune([bath](auto row, auto col, double) { return row != bath && col != bath; });
    }

    int size() const { return static_cast<int>(capacity.size()); }
    Factors at(double t) const { return factors ? factors(t) : Factors{}; }
    Vector slope(double t, const Vector& u) const {
        const Factors f = at(t);
        return -(f.diffusion * (conductance * u) + f.loss * loss.cwiseProduct(u));
    }
};

Problem& problem(void* data) {
    return *static_cast<Problem*>(data);
}

int right_side(realtype t, N_Vector y, N_Vector slope, void* data) {
    const Problem& p = problem(data);
    const int n = p.size();
    Vector push = p.slope(t, map(y).head(n));
    if (p.forcing)
        push += p.forcing(t);
    if (p.system.held) // its own loss is all that moves it
        push[p.system.bath()] = p.slope(t, map(y).head(n))[p.system.bath()];
    map(slope).head(n) = push.cwiseQuotient(p.capacity);
    map(slope).tail(n) = p.at(t).loss * map(y).head(n);
    return 0;
}

int times_jacobian(N_Vector v, N_Vector out, realtype t, N_Vector, N_Vector, void* data, N_Vector) {
    const Problem& p = problem(data);
    const int n = p.size();
    map(out).head(n) = p.slope(t, map(v).head(n)).cwiseQuotient(p.capacity);
    map(out).tail(n) = p.at(t).loss * map(v).head(n);
    return 0;
}

/// Factors C + gamma (K + C L). A held bath's column couples the cells to what does not move;
/// without it the matrix is symmetric, and GMRES makes up for it.
int set_up(realtype t, N_Vector, N_Vector, booleantype, booleantype* current, realtype gamma,
           void* data) {
    Problem& p = problem(data);
    const Factors f = p.at(t);
    Eigen::SparseMatrix<double> m = gamma * f.diffusion * p.symmetric;
    m += Eigen::SparseMatrix<double>(Vector(p.capacity + gamma * f.loss * p.loss).asDiagonal());
    p.factor.compute(m);
    p.gamma = gamma;
    p.loss_factor = f.loss;
    *current = SUNTRUE;
    return p.factor.info() == Eigen::Success ? 0 : -1;
}

int solve(realtype, N_Vector, N_Vector, N_Vector r, N_Vector z, realtype, realtype, int,
          void* data) {
    const Problem& p = problem(data);
    const int n = p.size();
    map(z).head(n) = p.factor.solve(p.capacity.cwiseProduct(map(r).head(n)));
    map(z).tail(n) = map(r).tail(n) + p.gamma * p.loss_factor * map(z).head(n);
    return 0;
}

void check(int flag, const char* what) {
    if (flag < 0)
        throw std::runtime_error(std::string("CVODE failed in ") + what);
}

} // namespace

std::vector<Vector> integrate(const transport::System& system, const std::vector<double>& times,
                              double relative, const Forcing& forcing,
                              const std::function<Factors(double)>& factors) {
    Problem p(system, forcing, factors);
    SUNContext context = nullptr;
    check(SUNContext_Create(nullptr, &context), "SUNContext_Create");
    N_Vector y = N_VNew_Serial(2 * p.size(), context);
    map(y) << system.initial, Vector::Zero(p.size());
    void* memory = CVodeCreate(CV_BDF, context);
    check(CVodeInit(memory, right_side, 0, y), "CVodeInit");
    // The integral grows with time, so its absolute tolerance is the concentration's over the span.
    N_Vector absolute = N_VNew_Serial(2 * p.size(), context);
    map(absolute) << Vector::Constant(p.size(), relative / 10),
        Vector::Constant(p.size(), relative / 10 * times.back());
    check(CVodeSVtolerances(memory, relative, absolute), "CVodeSVtolerances");
    check(CVodeSetUserData(memory, &p), "CVodeSetUserData");
    check(CVodeSetMaxNumSteps(memory, 100000), "CVodeSetMaxNumSteps");
    SUNLinearSolver solver = SUNLinSol_SPGMR(y, SUN_PREC_LEFT, 10, context);
    check(CVodeSetLinearSolver(memory, solver, nullptr), "CVodeSetLinearSolver");
    check(CVodeSetJacTimes(memory, nullptr, times_jacobian), "CVodeSetJacTimes");
    check(CVodeSetPreconditioner(memory, set_up, solve), "CVodeSetPreconditioner");
    std::vector<Vector> states;
    for (double t : times) {
        double reached = 0;
        check(CVode(memory, t, y, &reached, CV_NORMAL), "CVode");
        states.push_back(map(y));
    }
    CVodeFree(&memory);
    SUNLinSolFree(solver);
    N_VDestroy(absolute);
    N_VDestroy(y);
    SUNContext_Free(&context);
    return states;
}

} // namespace tidemark::verification
